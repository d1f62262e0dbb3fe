"""Makes the catalogue: what must be made again, side by side, published whole.

It offers `run.build` and `checking.check` of what `units.CATALOGUE` lists, and `nesting.nest` of one style.
"""
