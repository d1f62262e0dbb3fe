"""The drafting language: its grammar with named parts, syntax trees, values with units, mistakes in words."""
