"""Questions about invoices and purchases, and what the owner answers."""
