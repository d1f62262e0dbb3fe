"""Making the catalogue: what must be made again, side by side, published whole.

A build reads the studio folder, works out for every page and drawing a fingerprint of what it comes from,
makes those whose fingerprint changed, and moves the new files into place in one go. `catalogue.building.run`
holds the whole sequence; `works` names what it asks of the other rooms.
"""
