"""Reads TOML text that a stranger wrote: one sentence with its line if it is malformed, whatever it holds."""

import re
import tomllib
from pathlib import Path

from engine.procedure.faults import FaultLine, ProcedureFaults

LARGEST = 512 * 1024
"""Bytes that a procedure may have (project rule: the longest honest one is a tenth of it)."""

LONGEST_LINE = 4096
"""Characters that a line may have (project rule; a dotted key of any length would take minutes to read)."""

_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|(end of document))\)$")


def text_of(path: Path) -> str:
    """Return the text of a file with its newlines normalised.

    Raises:
        ProcedureFaults: if it cannot be read, is too large, or is not UTF-8.
    """
    try:
        if path.stat().st_size > LARGEST:
            raise _one(path.name, 0, _too_large())
        data = path.read_bytes()
        return normalised(data.decode("utf-8-sig"))
    except UnicodeDecodeError as fault:
        line = data.count(b"\n", 0, fault.start) + 1
        raise _one(path.name, line, "this is not UTF-8 text; save the file as UTF-8") from None
    except OSError as fault:
        raise _one(path.name, 0, f"cannot be read: {fault.strerror or fault}") from None


def normalised(text: str) -> str:
    """Return a text with every newline as one sign, and without a byte-order mark."""
    return text.removeprefix("\ufeff").replace("\r\n", "\n")


def read_toml(text: str, file: str) -> dict[str, object]:
    """Return the table that a TOML text is.

    Args:
        text: The text, newlines normalised.
        file: Its name, for the fault.

    Raises:
        ProcedureFaults: with the first fault and its line, if it is malformed.
    """
    if len(text.encode(errors="replace")) > LARGEST:
        raise _one(file, 0, _too_large())
    long = next((at for at, line in enumerate(text.split("\n"), 1) if len(line) > LONGEST_LINE), 0)
    if long:
        raise _one(file, long, f'this line has more than {LONGEST_LINE} characters; break it, with """ around the text')
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise _malformed(text, file, str(fault)) from None
    except RecursionError:
        raise _one(
            file, 0, "lists or tables stand too deep inside one another; a procedure needs four levels"
        ) from None
    except ValueError:
        raise _one(file, _long_number(text), "a number has too many digits; a procedure needs no such number") from None


def _malformed(text: str, file: str, sentence: str) -> ProcedureFaults:
    at = _AT.search(sentence)
    said = sentence[: at.start()] if at else sentence
    said = said[:1].lower() + said[1:] if said[:2] != "TO" else said
    if at and at[1]:
        return _one(file, int(at[1]), f"this is not TOML: {said} (column {at[2]})")
    line = text.count("\n") + (not text.endswith("\n")) if at else 0
    return _one(file, line, f"this is not TOML: {said} (at the end of the file)" if at else f"this is not TOML: {said}")


def _long_number(text: str) -> int:
    match = re.search(r"[0-9_]{400,}", text)
    return text.count("\n", 0, match.start()) + 1 if match else 0


def _too_large() -> str:
    return f"is larger than {LARGEST // 1024} kB; a procedure is never so long"


def _one(file: str, line: int, sentence: str) -> ProcedureFaults:
    return ProcedureFaults((FaultLine(file, line, "", sentence),))
