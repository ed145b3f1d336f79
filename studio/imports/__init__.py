"""Lists that are brought in: clients, prices, kit or sessions out of a CSV."""
