"""The workroom: what is ordered, what comes next, what it costs, and the papers that go with a garment."""
