"""The photos of a house: which drink each shows, what is wrong with them, and their files made ready for guests.

A photo lies in photos/ and is named for its drink: photos/saltmarsh-sour.jpg. A fault in one never stops a publish,
as the drink is drawn instead; it is told as a warning.
"""

import hashlib
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass

from menugen.names import slug_of
from menugen.problems import Problem, Span, near, warning
from menugen.reading import BrokenLink, DiskFiles, HouseFiles, joined
from menugen.revisions import GitFiles, NoHistory
from menugen.writing.file_cache import FileCache
from menugen.writing.photo_pixels import LARGEST_BYTES, PhotoFault, heavy, no_memory, shown_width
from menugen.writing.photos import ENDINGS, Photo, Rendition, make_photo, recipe, too_few_pixels

FOLDER = "photos"

KEPT = ".photos"
"""Where they are kept, beside the events that are published: a folder that may be deleted at any time."""

_OTHER_FORMS = (".heic", ".heif", ".avif", ".gif", ".tif", ".tiff", ".bmp", ".dng", ".raw")


@dataclass(frozen=True, slots=True)
class HousePhoto:
    """A photo that can be shown.

    Attributes:
        path: From the house.
        digest: SHA-256 of its content, in hex.
        width: Pixels, upright; of one made ready before no more than the widest of its files.
    """

    path: str
    digest: str
    width: int


class PhotoChanged(Exception):
    """A photo was good when it was looked at, and could not be had when it was to be made ready. `str()` says all.

    Attributes:
        path: From the house.
        why: What is wrong; stands alone, no full stop.
        hint: What to do.
    """

    def __init__(
        self,
        path: str,
        why: str = "this photo was changed during the publish",
        hint: str = "publish again",
    ) -> None:
        """Keep what is to be said; where that is no more, the file is another now."""
        super().__init__(f"{path}: {why}; {hint}")
        self.path = path
        self.why = why
        self.hint = hint


_KNOWN: dict[str, HousePhoto | PhotoFault] = {}
"""By what changes when a file does: a preview looks at every photo again at each save, and they are large."""


def check_photos(
    files: HouseFiles, drinks: Collection[str], wanted: Collection[str], made: FileCache
) -> tuple[dict[str, HousePhoto], tuple[Problem, ...]]:
    """Return the photos of the wanted drinks by slug, and everything that is wrong with the folder.

    Args:
        files: The house.
        drinks: Slugs of all its drinks, those with a fault among them.
        wanted: Slugs of those that are shown.
        made: What earlier publishes made ready; a photo among it is known to be good.
    """
    photos: dict[str, HousePhoto] = {}
    problems: list[Problem] = []
    first: dict[str, str] = {}
    for name in _names(files, problems):
        path, slug = joined(FOLDER, name), slug_of(name)
        ending = name[name.rfind(".") :].casefold() if "." in name else ""
        if name.startswith(".") or ending not in (*ENDINGS, *_OTHER_FORMS):
            continue
        if slug not in drinks:
            problems.append(_of_no_drink(path, slug, drinks))
        elif ending in _OTHER_FORMS:
            message = f'a photo ending in "{ending}" cannot be read'
            problems.append(_told(path, PhotoFault("photo-form", message, "save it as JPEG, PNG or WebP")))
        elif first.setdefault(slug, path) != path:
            message = f'"{first[slug]}" is a photo of this drink too, and that one is shown'
            problems.append(
                _told(path, PhotoFault("photo-twice", message, "keep one of the two", drawn=False))
            )
        elif slug in wanted:
            found = _looked_at(files, path, made)
            if isinstance(found, PhotoFault):
                problems.append(_told(path, found))
            else:
                photos[slug] = found
                if (small := too_few_pixels(found.width)) is not None:
                    problems.append(_told(path, small))
    return photos, tuple(problems)


def make_photos(
    files: HouseFiles,
    photos: Mapping[str, HousePhoto],
    made: FileCache,
    progress: Callable[[str, int, int], None],
) -> dict[str, Photo]:
    """Return the files of photos by slug: those made before as they are, the others made now.

    Args:
        files: The house.
        photos: From `check_photos`.
        made: Where they are kept.
        progress: Told of each that takes time.

    Raises:
        PhotoChanged: A file is no longer what it was, or there is no memory to open it now.
    """
    ready: dict[str, Photo] = {}
    for number, (slug, photo) in enumerate(photos.items()):
        key = _key(photo.digest)
        kept = made.find(key)
        if kept is not None:
            ready[slug] = _unpacked(kept)
            continue
        progress(f"making the photo of {slug} ready", number, len(photos))
        found = _made_ready(files, photo)
        made.keep(key, _packed(found))
        ready[slug] = found
    return ready


def _made_ready(files: HouseFiles, photo: HousePhoto) -> Photo:
    """Return the files of one photo, which was good a moment ago.

    Raises:
        PhotoChanged: It is not to be had now.
    """
    content = _content(files, photo.path)
    if isinstance(content, bytes) and _digest(content) != photo.digest:
        raise PhotoChanged(photo.path)
    found = make_photo(content) if isinstance(content, bytes) else content
    if isinstance(found, PhotoFault):
        raise PhotoChanged(photo.path, found.message, f"{found.hint}, and publish again")
    return found


def stand_ins(photos: Mapping[str, HousePhoto]) -> dict[str, Photo]:
    """Return what pages can hold in the place of photos that nobody will see: as many, and no picture in them."""
    forms = ("avif", "webp", "jpg")
    return {
        slug: tuple(Rendition(photo.width, photo.width, form, b"") for form in forms)
        for slug, photo in photos.items()
    }


def _names(files: HouseFiles, problems: list[Problem]) -> Iterable[str]:
    try:
        if not _is_elsewhere(files, FOLDER):
            return files.names(FOLDER)
        fault = _elsewhere("the photos", "copy them into it; until then drinks are drawn")
    except BrokenLink as lost:
        fault = PhotoFault(
            "photo-unreadable", lost.why, "until it leads to photos, drinks are drawn", drawn=False
        )
    except OSError:
        fault = PhotoFault(
            "photo-unreadable", "this folder cannot be read", "change its permissions", drawn=False
        )
    except NoHistory as missing:
        fault = PhotoFault("photo-not-fetched", str(missing), "until then drinks are drawn", drawn=False)
    problems.append(_told(FOLDER, fault))
    return ()


def _is_elsewhere(files: HouseFiles, path: str) -> bool:
    """Return whether a link leads a path out of the house, and out of the repository it lies in.

    What is shown of photos goes to guests. A house may come from somebody else, and a link in it could name any picture
    on this machine. Git itself follows no link out of a repository.
    """
    if not isinstance(files, DiskFiles):
        return False
    house = files.place("")
    home = next((folder for folder in (house, *house.parents) if (folder / ".git").exists()), house)
    return not files.place(path).is_relative_to(home)


def _elsewhere(what: str, hint: str, *, drawn: bool = False) -> PhotoFault:
    message = f"this is a link, and it leads out of the house: {what} would be shown to guests from there"
    return PhotoFault("photo-elsewhere", message, hint, drawn=drawn)


def _looked_at(files: HouseFiles, path: str, made: FileCache) -> HousePhoto | PhotoFault:
    mark = _mark(files, path)
    if mark in _KNOWN:
        return _KNOWN[mark]
    content = _content(files, path)
    if isinstance(content, PhotoFault):
        return content
    digest = _digest(content)
    kept = made.find(_key(digest))
    width = shown_width(content) if kept is None else max(shown.width for shown in _unpacked(kept))
    found = width if isinstance(width, PhotoFault) else HousePhoto(path, digest, width)
    if mark and not (isinstance(found, PhotoFault) and found.passing):
        _KNOWN[mark] = found
    return found


def _mark(files: HouseFiles, path: str) -> str:
    """Return a text that is another once a file's content is; empty where nothing is known of it."""
    try:
        if isinstance(files, GitFiles):
            return files.oid(path)
        return files.mark(path) if isinstance(files, DiskFiles) else ""
    except (OSError, NoHistory):
        return ""


def _content(files: HouseFiles, path: str) -> bytes | PhotoFault:
    try:
        return _read(files, path)
    except MemoryError:
        return no_memory()
    except NoHistory as fault:
        return PhotoFault("photo-not-fetched", str(fault), "fetch it")
    except OSError as fault:
        return PhotoFault("photo-unreadable", *_unread(fault))


def _read(files: HouseFiles, path: str) -> bytes | PhotoFault:
    # Files are cut at what text may have unless more is asked for.
    if isinstance(files, GitFiles):
        return files.read(path, LARGEST_BYTES)
    if not isinstance(files, DiskFiles):
        return files.read(path)
    if _is_elsewhere(files, path):
        return _elsewhere("a picture", "copy the photo into photos/", drawn=True)
    return heavy() if files.size(path) > LARGEST_BYTES else files.read(path, LARGEST_BYTES)


def _unread(fault: OSError) -> tuple[str, str]:
    """Return why a file could not be read, and what to do."""
    if isinstance(fault, BrokenLink):
        return fault.why, "make it lead to a photo"
    if isinstance(fault, FileNotFoundError):
        return "this photo is gone", "put it back"
    if isinstance(fault, PermissionError):
        return "this file may not be read", "change its permissions"
    why = fault.strerror or "the disk gave no reason"
    return f"this file cannot be read: {why}", "copy it here again"


def _of_no_drink(path: str, slug: str, drinks: Collection[str]) -> Problem:
    close = near(slug, sorted(drinks))
    hints = [f'did you mean "{close[0]}"?'] if close else []
    named = min(drinks, default="saltmarsh-sour")
    hints.append(f"a photo is named for its drink's file: {FOLDER}/{named}.jpg")
    return warning("photo-no-drink", f'no drink is called "{slug}"', Span(path, 1, 1, 1), *hints)


def _told(path: str, fault: PhotoFault) -> Problem:
    hint = f"{fault.hint}; until then the drink is drawn" if fault.drawn else fault.hint
    return warning(fault.code, fault.message, Span(path, 1, 1, 1), hint)


def _key(digest: str) -> str:
    """Return the name under which a photo made ready is kept: of its content and of how it is made."""
    return hashlib.sha256(f"{digest} {recipe()}".encode()).hexdigest()


def _packed(photo: Photo) -> dict[str, bytes]:
    return {f"{shown.width}x{shown.height}.{shown.form}": shown.content for shown in photo}


def _unpacked(parts: Mapping[str, bytes]) -> Photo:
    found: list[Rendition] = []
    for name, content in parts.items():
        size, _, form = name.partition(".")
        width, _, height = size.partition("x")
        found.append(Rendition(int(width), int(height), form, content))
    return tuple(found)


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()
