"""Names as the pages write them."""

from catalogue.language.wording import bare_numbers


def in_words(name: str) -> str:
    """A name or formula of the drafting language as read aloud: underscores become blanks."""
    return bare_numbers(name).replace("_", " ")
