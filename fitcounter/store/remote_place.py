"""A place for the off-site copy."""

from __future__ import annotations

from dataclasses import dataclass, field

FOLDER, S3, SFTP = "folder", "s3", "sftp"
MARK = "shop.json"  # in each live folder: whose shop it is


@dataclass(frozen=True, slots=True, kw_only=True)
class OffSite:
    """kind: FOLDER, S3 or SFTP. folder: where in it. host: of S3 the address that answers
    (https://…), of SFTP the computer's name. port, user: of SFTP. bucket, region, key, secret: of
    S3.
    """

    kind: str
    folder: str
    host: str = ""
    port: int = 22
    user: str = ""
    bucket: str = ""
    region: str = ""
    key: str = field(default="", repr=False)
    secret: str = field(default="", repr=False)

    @property
    def where(self) -> str:
        """Its address in words, without any secret."""
        if self.kind == S3:
            return f"s3://{self.bucket}/{self.folder}"
        if self.kind == SFTP:
            port = "" if self.port == 22 else f":{self.port}"
            return f"sftp://{self.user}@{self.host}{port}/{self.folder}"
        return self.folder
