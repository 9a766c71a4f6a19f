"""What the bench prints."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tests.bench.timing import Timed


@dataclass(frozen=True, slots=True)
class Table:
    """Cases with the bare one first, what is aimed at, and remarks."""

    title: str
    target: str
    timed: Sequence[Timed]
    remarks: tuple[str, ...] = ()

    def text(self) -> str:
        """The table as it is printed: milliseconds, and the ratio to the bare case."""
        lines = [self.title, f"  target: {self.target}"]
        for case in self.timed:
            ratio = case.seconds / self.timed[0].seconds
            lines.append(f"  {case.name:44} {case.seconds * 1000:12,.2f} ms  {ratio:9.2f} ×")
        lines += [f"  {remark}" for remark in self.remarks]
        return "\n".join(lines)
