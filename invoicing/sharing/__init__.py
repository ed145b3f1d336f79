"""A closed period handed to a bookkeeper who has no account here, by private link."""
