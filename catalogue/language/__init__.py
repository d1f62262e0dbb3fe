"""The drafting language: grammar, syntax tree, values with units."""
