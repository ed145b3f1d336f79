"""A limit on what one request may send, kept while it is still arriving."""

from typing import Any

from django.conf import settings
from django.core.files.uploadhandler import FileUploadHandler, StopUpload


class CappedUpload(FileUploadHandler):
    """Cut an upload off as soon as it is larger than the cap."""

    def new_file(self, *args: Any, **kwargs: Any) -> None:
        """Start to count."""
        super().new_file(*args, **kwargs)
        self.taken = 0

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        """Pass the data on, or stop the whole upload."""
        self.taken += len(raw_data)
        if self.taken > settings.UPLOAD_CAP_BYTES:
            raise StopUpload(connection_reset=True)
        return raw_data

    def file_complete(self, file_size: int) -> None:
        """Leave the finished file to the next handler."""
        return
