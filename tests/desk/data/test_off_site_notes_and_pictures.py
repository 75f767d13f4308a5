"""What goes across by the stage, against files in memory."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime
from pathlib import Path

from support.ticket_rows import make_job

from fitcounter.desk.data.off_site_notes_and_pictures import OffSiteStage
from fitcounter.desk.data.off_site_settings import SFTP, OffSite
from fitcounter.desk.shop import Act, Store

NOW = datetime(2026, 3, 17, 14, 0, tzinfo=UTC)


class KeptFiles:
    def __init__(self) -> None:
        self.kept: dict[str, bytes] = {}

    def names(self) -> dict[str, int]:
        return {name: len(content) for name, content in self.kept.items()}

    def put(self, files: Iterable[tuple[Path, str]]) -> None:
        self.kept |= {name: path.read_bytes() for path, name in files}

    def get(self, files: Iterable[tuple[str, Path]]) -> None:
        for name, path in files:
            path.write_bytes(self.kept[name])

    def remove(self, names: Iterable[str]) -> None:
        for name in names:
            self.kept.pop(name, None)

    def remove_live(self, live: str) -> None:
        self.remove([name for name in self.kept if name.startswith(f"{live}/")])


def test_pictures_go_across_and_a_disk_that_lost_one_takes_none_along(store: Store, tmp_path: Path):
    (tmp_path / "photos").mkdir()
    picture = tmp_path / "photos" / "a.jpg"
    picture.write_bytes(b"a")
    files = KeptFiles()
    files.kept["live-1/shop.json"] = b"{}"
    stage = OffSiteStage(tmp_path, OffSite(kind=SFTP, folder="a", host="h", user="u"))
    stage.files = files
    stage.begin()
    assert (stage.folder / "live-1" / "shop.json").read_bytes() == b"{}"
    assert stage.push()
    assert set(files.kept) == {"live-1/shop.json", "photos/a.jpg"}
    picture.unlink()
    (stage.folder / "live-1" / "shop.json").unlink()
    assert stage.push()
    assert set(files.kept) == {"photos/a.jpg"}


def test_the_pictures_of_who_was_erased_go_from_there(store: Store, tmp_path: Path):
    job = make_job(store, Act(NOW), name="Ada Vole")
    for name, erased in (("a.jpg", None), ("b.jpg", "2026-03-17T14:00:00Z")):
        with store.write_tx():
            store.insert(
                "photos",
                ticket_id=job.ticket_id,
                moment="slip",
                file=name,
                **dict.fromkeys(("width_px", "height_px", "bytes"), 5),
                content_hash="",
                taken_at="2026-03-17T14:00:00Z",
                erased_at=erased,
            )
    stage = OffSiteStage(tmp_path, OffSite(kind=SFTP, folder="a", host="h", user="u"))
    files = stage.files = KeptFiles()
    files.kept = {"photos/a.jpg": b"a", "photos/b.jpg": b"b"}
    stage.begin()
    assert set(files.kept) == {"photos/a.jpg"}
