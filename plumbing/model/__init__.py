"""The layout as frozen values; each remembers its place in the file.

Everything is SI inside. Field names are the layout file's keys with `-` for `_`
(a trailing `_` is dropped: `from_` is written `from`).
"""
