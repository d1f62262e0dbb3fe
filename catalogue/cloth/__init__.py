"""Cloth: how the pieces may be laid on it, and how much of it to buy."""
