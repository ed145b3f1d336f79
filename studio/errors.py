"""The one base of every refusal that the rules of the business can give."""


class DomainError(Exception):
    """A rule of the business said no; the message is fit to show to the user."""
