"""A new procedure to begin with: a small whole job, with the head of a shipped one, and answers with which it plays."""

import json
import re
from pathlib import Path

from engine.procedure.load import load
from engine.procedure.model import Entry, Procedure
from engine.procedure.schema import schema_text
from engine.procedure.toml import read_toml, text_of
from engine.session.dry_run import WAIT, plain_way, waited_for
from engine.session.gates import entries
from engine.shipped import folder

_TAKEN = ("profile", "tools", "supplies", "stop_and_ask")
"""The keys of the head that a new procedure takes from a shipped one."""

_NAME = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class CannotBegin(ValueError):
    """A new procedure that cannot be written; the message says what would be right."""


def begin_procedure(path: Path, like: Path) -> list[Path]:
    """Write a new procedure, its answers file and the two schemas of an editor; return the files that were written.

    Args:
        path: The file of the new procedure; its name becomes the procedure's own.
        like: The procedure whose head it takes.

    Raises:
        CannotBegin: if the name is none for a procedure, or one of the two files is there already.
    """
    answers = path.with_suffix(".answers.toml")
    if path.suffix != ".toml" or not _NAME.fullmatch(path.stem):
        raise CannotBegin(f"{path}: give it small letters, digits and hyphens, and .toml, such as anchor-light.toml")
    if taken := next((file for file in (path, answers) if file.exists()), None):
        raise CannotBegin(f"{taken}: is there already, and is left as it is; give another name")
    path.parent.mkdir(parents=True, exist_ok=True)
    written = [path, answers]
    path.write_text(_text(path.stem, like), encoding="utf-8")
    answers.write_text(answers_for(load(path)), encoding="utf-8")
    for schema, file in (
        (schema_text("procedure"), path.with_name("procedure.schema.json")),
        (schema_text("block"), path.with_name("block.schema.json")),
    ):
        if not file.exists():
            file.write_text(schema, encoding="utf-8")
            written.append(file)
    return written


def _text(name: str, like: Path) -> str:
    text = text_of(folder("procedures") / "start" / "new-job.toml")
    head = read_toml(text_of(like), like.name)
    title = name.replace("-", " ")
    text = text.replace('id = "new-job"', f'id = "{name}"').replace("A new job", f"{title[0].upper()}{title[1:]}")
    for key in _TAKEN:
        line = f"{key} = {_said(head[key])}\n" if key in head else ""
        text = (
            text.replace(f"{key} = []\n", line) if f"{key} = []" in text else text.replace("tools =", f"{line}tools =")
        )
    return text


def _said(value: object) -> str:
    if isinstance(value, list):
        return "[\n" + "".join(f"  {_said(item)},\n" for item in value) + "]"
    return json.dumps(value, ensure_ascii=False)


def answers_for(procedure: Procedure) -> str:
    """Return the text of an answers file: a usual value for each entry, on the plain way through a procedure."""
    walk, state = plain_way(procedure)
    lines: list[str] = []
    for step in (procedure.step_by_id[name] for name in walk.steps):
        late = waited_for(step)
        for entry in entries(procedure, state, step):
            if entry.id in late:
                lines.append(f'{{ pass_time = "{WAIT.total_seconds() / 60:.0f} min" }}')
            if entry.id in state.given:
                lines += [
                    f"{{ give = {_said(entry.id)}, say = {_said(_typed(entry, state.given[entry.id].taken.raw))} }}"
                ]
        lines += [f"{{ part = {_said(part.id)}, step = {_said(step.id)} }}" for part in step.parts]
        lines.append(f"{{ done = {_said(step.id)} }}")
    lines.append("{ close = true }")
    did = "".join(f"  {line},\n" for line in lines)
    return (
        f"# What a person would do, in order. The values are usual ones: put those of a real job in their place.\n"
        f'schema = 1\nprocedure = "{procedure.id}"\nasset = "Trial"\nperson = "me"\n'
        f'do = [\n{did}]\n[clock]\nstart = 2026-01-01T09:00:00Z\nstep = "20 s"\n'
    )


def _typed(entry: Entry, raw: str) -> str:
    """Return what is typed for an entry, with its unit, so that the file can be read without the procedure."""
    return f"{raw} {entry.unit}" if entry.hard is not None and entry.unit else raw
