"""Names as the pages write them."""


def in_words(name: str) -> str:
    """A name or formula of the drafting language as read aloud: underscores become blanks."""
    return name.replace("_", " ")
