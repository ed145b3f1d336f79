"""What the log must not hold."""

import logging
import re

LINK_PATH = re.compile(r"/p/([\w-]+)/[\w-]{20,}")


class HideLinks(logging.Filter):
    """Keep the tokens of private links out of the log."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Replace every token in the message by dots."""
        message = record.getMessage()
        if "/p/" in message:
            record.msg, record.args = LINK_PATH.sub(r"/p/\1/...", message), ()
        return True
