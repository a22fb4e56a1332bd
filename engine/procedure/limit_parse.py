"""Reads a limit: text to a tree whose names are known and whose units have been checked."""

from engine.procedure import limit_typed as make
from engine.procedure.limit_tokens import JOINING, LimitFault, Token, tokens
from engine.procedure.limit_tree import Both, Label, LabelName, Node, Numeric, Truth
from engine.procedure.limit_typed import Asked

DEEPEST = 16
"""Brackets and signs that may stand inside one another (project rule: deeper cannot be proofread)."""

_COMPARISONS = ("<", "<=", ">", ">=", "==", "!=")
_SAME_WAY = ({"<", "<="}, {">", ">="})


def parse_truth(text: str, asked: Asked) -> Truth:
    """Return the tree of a limit or a condition: something that holds or does not.

    Raises:
        LimitFault: one sentence with the column, if it cannot be read.
    """
    parser = _Parser(tokens(text), asked)
    first = parser.here
    return make.truth(first, parser.whole())


def parse_numeric(text: str, asked: Asked) -> Numeric:
    """Return the tree of a sum that gives a number.

    Raises:
        LimitFault: one sentence with the column, if it cannot be read or is no number.
    """
    parser = _Parser(tokens(text), asked)
    first = parser.here
    return make.numeric(first, parser.whole())


class _Parser:
    """Recursive descent, one method a rank: or, and, not, comparison, sum, product, sign, atom."""

    def __init__(self, words: list[Token], asked: Asked) -> None:
        self._words = words
        self._place = 0
        self._asked = asked
        self._depth = 0

    @property
    def here(self) -> Token:
        return self._words[self._place]

    def whole(self) -> Node:
        node = self._or()
        if self.here.kind != "end":
            raise LimitFault(f"{_called(self.here)} is one too many here", self.here.column)
        return node

    def _take(self, *texts: str) -> Token | None:
        token = self.here
        if token.kind in ("sign", "name") and token.text in texts:
            self._place += 1
            return token
        return None

    def _deeper(self) -> None:
        self._depth += 1
        if self._depth > DEEPEST:
            raise LimitFault(
                f"more than {DEEPEST} brackets and signs inside one another; say it in two limits", self.here.column
            )

    def _or(self) -> Node:
        node = self._and()
        while token := self._take("or"):
            node = make.either(token, node, self._and())
        return node

    def _and(self) -> Node:
        node = self._not()
        while token := self._take("and"):
            node = make.both(token, node, self._not())
        return node

    def _not(self) -> Node:
        if token := self._take("not"):
            self._deeper()
            node: Node = make.negated(token, self._not())
            self._depth -= 1
            return node
        return self._comparison()

    def _comparison(self) -> Node:
        left = self._sum()
        token = self._take(*_COMPARISONS)
        if token is None:
            return left
        right = self._sum()
        node = self._compared(token, left, right)
        if second := self._take(*_COMPARISONS):
            if not any({token.text, second.text} <= way for way in _SAME_WAY):
                raise LimitFault("only a range such as 1 mm <= gap <= 3 mm has two signs; else use and", second.column)
            node = Both(node, make.compare(second, right, self._sum()))
        if third := self._take(*_COMPARISONS):
            raise LimitFault("one comparison too many; join them with and", third.column)
        return node

    def _compared(self, token: Token, left: Node, right: Node) -> Truth:
        if any(isinstance(side, Label | LabelName) for side in (left, right)):
            return make.labelled(token, left, right, self._asked)
        return make.compare(token, left, right)

    def _sum(self) -> Node:
        node = self._product()
        while token := self._take("+", "-"):
            node = make.add(token, node, self._product())
        return node

    def _product(self) -> Node:
        node = self._sign()
        while token := self._take("*", "/"):
            node = make.times(token, node, self._sign())
        return node

    def _sign(self) -> Node:
        if token := self._take("-"):
            self._deeper()
            node: Node = make.negative(token, self._sign())
            self._depth -= 1
            return node
        return self._atom()

    def _atom(self) -> Node:
        token = self.here
        self._place += 1
        match token.kind, token.text:
            case "number", _:
                return make.number(token)
            case "label", _:
                return Label(token.text, token.text)
            case "sign", "(":
                return self._bracket()
            case "name", "min" | "max" | "abs":
                return self._pick(token)
            case "name", word if word not in JOINING:
                return make.name(token, self._asked)
        self._place -= 1
        raise LimitFault(f"{_called(token)} stands where a name or a number should be", token.column)

    def _bracket(self) -> Node:
        self._deeper()
        node = self._or()
        self._expect(")")
        self._depth -= 1
        return node

    def _pick(self, token: Token) -> Node:
        self._expect("(")
        self._deeper()
        inner = [self._or()]
        while self._take(","):
            inner.append(self._or())
        self._expect(")")
        self._depth -= 1
        return make.pick(token, inner)

    def _expect(self, sign: str) -> None:
        if self._take(sign) is None:
            raise LimitFault(f'"{sign}" is missing before {_called(self.here)}', self.here.column)


def _called(token: Token) -> str:
    return "the end" if token.kind == "end" else f'"{token.text}"'
