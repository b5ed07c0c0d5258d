"""The verbs of the book: log a bead, cut a coupon, keep a picture, find a piece. They say what they need in `ports`."""
