"""Extra loss where laminar flow is still taking shape behind an inlet (Hagenbach's term).

The profile settles over about 0.06 Re bores, so the short tubes of a model are mostly still
developing; they are given the whole term. It is that of laminar flow alone.

References
----------
1.16 to 1.33 heads in the literature: Schlichting 1.16, Chen ``1.20 + 38 / Re``, Langhaar 1.28;
all from memory.
"""

ENTRY = 1.28  # [-] heads of the mean speed lost on top of friction, from a uniform inlet
LAMINAR_UP_TO = 2100.0  # [-] Reynolds number beyond which the loss grows no more
