"""What is chosen about an enquiry: how it came, from where, and why it was lost."""

from django.db import models


class Channel(models.TextChoices):
    """How an enquiry came in."""

    PHONE = "PHONE", "By phone"
    MAIL = "MAIL", "By e-mail"
    POST = "POST", "By post"
    PERSON = "PERSON", "In person"
    FORM = "FORM", "By the form"


class Source(models.TextChoices):
    """How somebody found the studio."""

    RECOMMENDED = "RECOMMENDED", "Recommended"
    AGAIN = "AGAIN", "Came before"
    WEB_PAGE = "WEB_PAGE", "The studio’s web page"
    SEARCH = "SEARCH", "A search on the web"
    SOCIAL = "SOCIAL", "Social media"
    SEEN = "SEEN", "Saw pictures or a sign"
    EVENT = "EVENT", "A fair or other event"
    OTHER = "OTHER", "Something else"


class LostReason(models.TextChoices):
    """Why a job was not taken."""

    PRICE = "PRICE", "The price"
    DATE = "DATE", "The date was not free"
    ELSEWHERE = "ELSEWHERE", "They chose somebody else"
    PUT_OFF = "PUT_OFF", "They put it off"
    SILENT = "SILENT", "No answer came"
    UNFIT = "UNFIT", "It is not what the studio does"
    OTHER = "OTHER", "Something else"
