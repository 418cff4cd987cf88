"""Fonts of the user's own system for Chinese, Japanese and Korean, which are too large to travel with us.

They are looked up by file, never by name. Only files with outlines that a PDF can embed count: those of TrueType
or of CFF, not those that vary (CFF2). Where none is found a warning and a white square stand for the character.
"""

import os
import sys
from functools import cache
from pathlib import Path

# (file, face within it), the better first. The first list is for text with kana, the second for Hangul, the
# third for Han alone: the same character is drawn differently in Tokyo and in Beijing.
_JAPANESE = (
    ("ipaexg.ttf", 0), ("ipagp.ttf", 0), ("ipag.ttf", 0), ("YuGothM.ttc", 0), ("YuGothR.ttc", 0),
    ("meiryo.ttc", 0), ("msgothic.ttc", 1), ("TakaoPGothic.ttf", 0),
    ("NotoSansCJK-Regular.ttc", 0), ("NotoSansCJKjp-Regular.otf", 0),
)  # fmt: skip
_KOREAN = (
    ("NanumGothic.ttf", 0), ("malgun.ttf", 0), ("gulim.ttc", 0), ("AppleGothic.ttf", 0), ("UnDotum.ttf", 0),
    ("baekmuk-dotum.ttf", 0), ("NotoSansCJK-Regular.ttc", 1), ("NotoSansCJKkr-Regular.otf", 0),
)  # fmt: skip
_HAN = (
    ("DroidSansFallbackFull.ttf", 0), ("DroidSansFallback.ttf", 0), ("wqy-microhei.ttc", 0),
    ("wqy-zenhei.ttc", 0), ("msyh.ttc", 0), ("simsun.ttc", 0), ("msjh.ttc", 0), ("STHeiti Light.ttc", 0),
    ("STHeiti Medium.ttc", 0), ("Arial Unicode.ttf", 0), ("ARIALUNI.TTF", 0),
    ("NotoSansCJK-Regular.ttc", 2), ("NotoSansCJKsc-Regular.otf", 0),
)  # fmt: skip


def _folders() -> tuple[Path, ...]:
    home = Path.home()
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        own = (Path(local, "Microsoft", "Windows", "Fonts"),) if local else ()
        return (Path(os.environ.get("WINDIR", r"C:\Windows"), "Fonts"), *own)
    if sys.platform == "darwin":
        return Path("/System/Library/Fonts"), Path("/Library/Fonts"), home / "Library" / "Fonts"
    return (
        Path("/usr/share/fonts"), Path("/usr/share/fonts-droid-fallback"), Path("/usr/local/share/fonts"),
        home / ".local" / "share" / "fonts", home / ".fonts",
    )  # fmt: skip


@cache
def _files(folders: tuple[Path, ...]) -> dict[str, Path]:
    """Find the wanted files; the first folder that has one gives it."""
    wanted = {name for name, _ in (*_JAPANESE, *_KOREAN, *_HAN)}
    files: dict[str, Path] = {}
    for folder in folders:
        for parent, inner, names in os.walk(folder):
            inner.sort()
            for name in sorted(wanted.intersection(names)):
                files.setdefault(name, Path(parent, name))
    return files


@cache
def _has_outlines(path: Path, index: int) -> bool:
    import uharfbuzz

    tables = uharfbuzz.Face(uharfbuzz.Blob.from_file_path(str(path)), index).table_tags
    return "glyf" in tables or "CFF " in tables


def found(text: str, folders: tuple[Path, ...] | None = None) -> tuple[tuple[Path, int], ...]:
    """Give the usable fonts of this system for a text, the ones made for its language first."""
    kana = any("\u3040" <= each <= "\u30ff" for each in text)
    hangul = any("\u1100" <= each <= "\u11ff" or "\uac00" <= each <= "\ud7ff" for each in text)
    order = [*_HAN, *_JAPANESE, *_KOREAN]
    if kana:
        order = [*_JAPANESE, *_HAN, *_KOREAN]
    elif hangul:
        order = [*_KOREAN, *_HAN, *_JAPANESE]
    files = _files(_folders() if folders is None else folders)
    return tuple(
        (files[name], index) for name, index in order if name in files and _has_outlines(files[name], index)
    )
