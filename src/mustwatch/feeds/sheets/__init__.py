"""Tables of others: text and workbooks, read as people write them."""
