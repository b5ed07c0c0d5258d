"""Where a book is kept: database and original pictures."""
