"""The words of a set-up: where light comes from, what shades it, how one shoots."""

from django.db import models


class SkyWord(models.TextChoices):
    """What the sky is planned to be; the four skies of the light model."""

    CLEAR = "clear", "clear"
    BROKEN = "broken", "broken cloud"
    OVERCAST = "overcast", "overcast"
    DARK = "dark", "dark overcast"


class Light(models.TextChoices):
    """Where the light on the sitters comes from."""

    OPEN_SKY = "open_sky", "Open sky"
    OPEN_SHADE = "open_shade", "Open shade"
    WINDOW = "window", "Window"
    FLASH = "flash", "Flash"


class Shade(models.TextChoices):
    """What keeps the sun off the sitters."""

    NOTHING = "nothing", "Nothing"
    WALL = "wall", "Wall"
    TREE = "tree", "Tree"
    ROOF = "roof", "Roof"


class WallOutdoors(models.TextChoices):
    """How light a wall beside the sitters is."""

    WHITE = "white", "White, whitewashed"
    LIGHT = "light", "Light render, pale stone"
    BRICK = "brick", "Brick, weathered stone"
    DARK = "dark", "Dark stone or wood, hedge"


class Movement(models.TextChoices):
    """What the sitters do; values are those of the light core."""

    STILL = "still", "Sitting still"
    STANDING = "standing", "Standing"
    GESTURING = "gesturing", "Talking with their hands"
    WALKING = "walking", "Walking"
    RUNNING = "running", "Running"
    JUMPING = "jumping", "Jumping"


class Support(models.TextChoices):
    """What carries the camera; values are those of the light core."""

    HANDHELD = "handheld", "Hand-held"
    TRIPOD = "tripod", "Tripod"


class Aim(models.TextChoices):
    """What matters most; values are those of the light core."""

    BALANCED = "balanced", "A balance"
    FREEZE = "freeze", "Freeze what moves"
    BLUR = "blur", "Blur what moves"
    THIN_FOCUS = "thin_focus", "Thin focus"
    ALL_SHARP = "all_sharp", "All sharp"
    LOW_NOISE = "low_noise", "Least noise"


class FlashPurpose(models.TextChoices):
    """What a flash does; values are those of the light core."""

    KEY = "key", "Key light"
    FILL = "fill", "Fill"
    RIM = "rim", "Rim light"


class FlashMode(models.TextChoices):
    """How flash gets to the sitters; values are those of the light core."""

    DIRECT = "direct", "Direct"
    BOUNCE = "bounce", "Bounced"
    SLAVE = "slave", "Fired by a slave"


class SecondPurpose(models.TextChoices):
    """What a second flash does; it is never the key."""

    FILL = "fill", "Fill"
    RIM = "rim", "Rim light"


class Surface(models.TextChoices):
    """What a bounced flash is thrown at."""

    CEILING = "ceiling", "Ceiling"
    WALL = "wall", "Wall"
    BOARD = "board", "Board"
    HAND = "hand", "Hand"


class Trigger(models.TextChoices):
    """What fires the second flash."""

    RADIO = "radio", "Radio"
    CABLE = "cable", "Cable"
    SLAVE = "slave", "Optical slave"


class Metering(models.TextChoices):
    """Who sets the power of the flash."""

    MANUAL = "manual", "Manual power"
    DEDICATED = "dedicated", "Dedicated, by the camera"
