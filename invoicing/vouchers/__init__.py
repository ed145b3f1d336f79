"""Vouchers: sold to one, given to another, redeemed in whole or in parts."""
