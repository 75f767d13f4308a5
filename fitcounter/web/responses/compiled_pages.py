"""What became of the templates, kept from one start to the next, as Python keeps what it compiled
of our modules: the first page of a start took a tenth of it to compile its own.
"""

from __future__ import annotations

import sys
from contextlib import suppress
from importlib.metadata import version
from importlib.util import cache_from_source
from pathlib import Path

from jinja2 import Environment, FileSystemBytecodeCache
from jinja2.bccache import Bucket


class CompiledPages(FileSystemBytecodeCache):
    """Lies where Python keeps what it compiled of this module: whoever may write there could as
    well write the program. Where nobody may, each start compiles anew.
    """

    def __init__(self) -> None:
        folder = Path(cache_from_source(__file__)).parent
        self.by = f"{version('jinja2')}\0"
        if not sys.dont_write_bytecode:
            with suppress(OSError):
                folder.mkdir(parents=True, exist_ok=True)
        super().__init__(str(folder), "page-%s.cache")

    def get_bucket(
        self, environment: Environment, name: str, filename: str | None, source: str
    ) -> Bucket:
        """Known by what is compiled, which is the template as our extension leaves it, and by whose
        compiler.
        """
        left = environment.preprocess(source, name, filename)
        return super().get_bucket(environment, name, filename, self.by + left)

    def load_bytecode(self, bucket: Bucket) -> None:
        """A file that was damaged may raise anything; the template is there."""
        with suppress(Exception):
            super().load_bytecode(bucket)

    def dump_bytecode(self, bucket: Bucket) -> None:
        """A full disk keeps nobody from the page."""
        if not sys.dont_write_bytecode:
            with suppress(OSError):
                super().dump_bytecode(bucket)
