"""Typed text <-> number in base units <-> text in the reader's unit. The only room that imports pint, and lazily.

Base units: V, A, ohm, m, mm2 (areas of conductors), N m, N, degC, K (differences), s, W, Ah, % (ratios), 1 (counts),
kg is not used (a pull in kg is read as kgf), percent is a number of percents. A wire size stays a label until
``engine.trade.conductor`` gives its area.
"""
