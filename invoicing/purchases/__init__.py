"""What the studio buys, and what it drives: receipts, mileage, private share."""
