"""The pages of a catalogue: typed records of what they show of drafts, styles and clients, put into templates.

`pages.Site` gives the text of every page; `summaries` holds what is kept of a draft for pages that show many, `keeping`
what its own page needs when the draft is gone. Nothing here writes a file.
"""
