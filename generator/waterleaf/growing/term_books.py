"""Double-entry books of a growing system: whatever leaves one place comes to another, so that nothing is lost.

An account is a thing in a place: "ammonia@loop" holds grams of ammonia nitrogen in the water. Accounts outside the
system (feed, tap, base) run below zero as they give; no other account can.
"""

import math
from collections.abc import Mapping
from typing import Final

# What a thing is made of. Kinds of one stuff may turn into one another; different stuffs never mix.
STUFF: Final[dict[str, str]] = {
    "water": "water", "solids": "solids", "alkalinity": "alkalinity",
    "ammonia": "nitrogen", "nitrite": "nitrogen", "nitrate": "nitrogen", "bound_n": "nitrogen", "nitrogen": "nitrogen",
    "phosphate": "phosphorus", "bound_p": "phosphorus", "phosphorus": "phosphorus",
}  # fmt: skip
DISSOLVED: Final = ("ammonia", "nitrite", "nitrate", "phosphate", "alkalinity")
BOUND: Final = ("solids", "bound_n", "bound_p")
GIVERS: Final = ("feed", "tap", "base")


class Books:
    """Accounts in litres and grams."""

    __slots__ = ("accounts",)

    def __init__(self, accounts: Mapping[str, float]) -> None:
        """Open the books with what is there."""
        self.accounts = dict(accounts)

    def copy(self) -> "Books":
        """Books that go on by themselves."""
        return Books(self.accounts)

    def of(self, account: str) -> float:
        """What an account holds."""
        return self.accounts.get(account, 0.0)

    def move(self, source: str, target: str, amount: float) -> float:
        """Bring an amount over, at most what is there, and return what was brought."""
        kind, _, place = source.partition("@")
        if STUFF[kind] != STUFF[target.partition("@")[0]]:
            raise ValueError(f"{source} cannot become {target}")
        if place not in GIVERS:
            amount = min(amount, self.accounts.get(source, 0.0))
        if amount <= 0:
            return 0.0
        self.accounts[source] = self.accounts.get(source, 0.0) - amount
        self.accounts[target] = self.accounts.get(target, 0.0) + amount
        return amount

    def share(self, kinds: tuple[str, ...], source: str, target: str, part: float) -> None:
        """Bring a part of several things from one place to another."""
        for kind in kinds:
            self.move(f"{kind}@{source}", f"{kind}@{target}", part * self.of(f"{kind}@{source}"))

    def carry(self, source: str, target: str, litres: float) -> float:
        """Bring water over with what is dissolved in it, and return the litres that were brought."""
        there = self.of(f"water@{source}")
        part = min(1.0, litres / there) if there > 0 and litres > 0 else 0.0
        self.share(DISSOLVED, source, target, part)
        return self.move(f"water@{source}", f"water@{target}", part * there)

    def total(self, stuff: str, *, places: tuple[str, ...] | None = None) -> float:
        """All of a stuff, everywhere or in some places."""
        return math.fsum(
            amount for account, amount in self.accounts.items()
            if STUFF[account.partition("@")[0]] == stuff and (places is None or account.partition("@")[2] in places)
        )
