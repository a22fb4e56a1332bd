"""An answers file as the lines that a person types into the plain face."""

from engine.procedure.model import Procedure
from engine.session import commands as c
from engine.session.answers import Answers


def typed_lines(procedure: Procedure, answers: Answers) -> list[str]:
    """Return the lines, for answers that only give values, name parts, end steps and close."""
    lines: list[str] = []
    for action in answers.actions:
        match action:
            case c.Take(_, text, answer):
                lines += [text] if answer is None else [text, str(answer + 1)]
            case c.SkipEntry(_, reason):
                lines.append(f".skip {reason}")
            case c.NamePart(step, part):
                ids = [p.id for p in procedure.step_by_id[step].parts]
                lines.append(str(ids.index(part) + 1))
            case c.Finish(step):
                lines.append("go" if procedure.step_by_id[step].hold else "")
            case c.Close():
                lines.append("close")
            case _:
                raise AssertionError(f"no line for {action}")
    return lines
