"""Solids cut by planes, routes, bends and passages: pure functions of arrays in metres."""
