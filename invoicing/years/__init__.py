"""Income years of a studio outside of tax: what came in, what it cost, what is left."""
