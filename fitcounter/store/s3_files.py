"""Files in an S3-compatible store, by obstore (https://developmentseed.org/obstore, MIT), which is
imported only where files go across: never by the server.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from datetime import timedelta
from pathlib import Path
from urllib.parse import urlsplit

from obstore.exceptions import BaseError
from obstore.store import S3Store

from fitcounter.errors import Unavailable, message
from fitcounter.store.remote_place import MARK, OffSite

WAIT = timedelta(seconds=20)
LONGEST = timedelta(minutes=10)  # for one file


class S3Files:
    """See RemoteFiles."""

    def __init__(self, place: OffSite) -> None:
        self.place = place
        self._opened: S3Store | None = None

    def names(self) -> dict[str, int]:
        with self._asked() as store:
            listed = list(self._listed(store, None))
        return {
            name: size
            for name, size in listed
            if not name.startswith("live-") or name.partition("/")[2] == MARK
        }

    def put(self, files: Iterable[tuple[Path, str]]) -> None:
        with self._asked() as store:
            for path, name in files:
                with path.open("rb") as content:
                    store.put(name, content)

    def get(self, files: Iterable[tuple[str, Path]]) -> None:
        with self._asked() as store:
            for name, path in files:
                with path.open("wb") as target:
                    target.writelines(store.get(name).stream())

    def remove(self, names: Iterable[str]) -> None:
        with self._asked() as store:
            store.delete(list(names))

    def remove_live(self, live: str) -> None:
        with self._asked() as store:
            store.delete([name for name, _ in self._listed(store, live)])

    @staticmethod
    def _listed(store: S3Store, below: str | None) -> Iterator[tuple[str, int]]:
        for some in store.list(below):
            yield from ((one["path"], one["size"]) for one in some)

    @contextmanager
    def _asked(self) -> Iterator[S3Store]:
        """The store. Raises Unavailable in words for what goes wrong in the block."""
        self._opened = self._opened or self._open()
        try:
            yield self._opened
        except (BaseError, OSError) as error:
            if isinstance(error, OSError) and error.errno is not None:
                raise  # of this computer's own disk
            raise Unavailable(self._in_words(str(error))) from error

    def _open(self) -> S3Store:
        place = self.place
        for name in [name for name in os.environ if name.startswith("AWS_")]:
            del os.environ[name]  # the library would let them speak beside what the owner typed
        return S3Store(
            place.bucket,
            prefix=place.folder,
            endpoint=place.host,
            region=place.region,
            access_key_id=place.key,
            secret_access_key=place.secret,
            virtual_hosted_style_request=False,
            disable_bulk_delete=True,  # not every store has it
            client_options={
                "allow_http": place.host.startswith("http://"),  # the loopback alone (off_site)
                "connect_timeout": WAIT,
                "timeout": LONGEST,
            },
            retry_config={"max_retries": 2, "retry_timeout": WAIT},
        )

    def _in_words(self, said: str) -> str:
        host = urlsplit(self.place.host).netloc
        code = said.partition("<Code>")[2].partition("</Code>")[0]
        if code == "NoSuchBucket":
            return message(
                "There is no bucket {bucket} there. Make it first, or correct its name.",
                bucket=self.place.bucket,
            )
        status = said.partition("non-2xx status code: ")[2][:3]
        if status in ("401", "403"):
            return message(
                "{host} refuses these keys ({code}). Copy both again, and let them read, write"
                " and delete in this bucket.",
                host=host,
                code=code or status,
            )
        if status:
            return message("{host} answers {status} {code}.", host=host, status=status, code=code)
        return message(
            "{host} cannot be reached. Is its address right, and is the network there?", host=host
        )
