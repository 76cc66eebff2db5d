"""Checks the sequence cost against its definition before anything is trained on it: all layings of the words, summed one by one."""

import itertools
import math

import torch

from ctc import ctc_slope

STEPS, CLASSES = 5, 4


def by_enumeration(logits: torch.Tensor, words: list[int], latest: dict[int, int]) -> float:
    """Graves and others 2006, equations 1 to 3, without the layings in which a word is told too late."""
    p = torch.softmax(logits, 1).tolist()
    total = 0.0
    for path in itertools.product(range(CLASSES), repeat=STEPS):
        said = [c for t, c in enumerate(path) if c != CLASSES - 1 and (t == 0 or c != path[t - 1])]
        if said == words and all(t <= latest.get(c, STEPS) for t, c in enumerate(path)):
            total += math.prod(p[t][c] for t, c in enumerate(path))
    return -math.log(total)


def cost_of(logits: torch.Tensor, words: list[int], latest: dict[int, int]) -> tuple[float, torch.Tensor]:
    deadline = torch.full((1, CLASSES), 10**6)
    for word, step in latest.items():
        deadline[0, word] = step
    padded = torch.tensor([words or [0]])
    costs, slope = ctc_slope(logits[None], torch.tensor([STEPS]), padded, torch.tensor([len(words)]), deadline)
    return costs.item(), slope[0]


def main() -> None:
    torch.manual_seed(1)
    logits = torch.randn(STEPS, CLASSES, dtype=torch.float64)
    for words, latest in (([], {}), ([0], {}), ([1, 2], {}), ([1, 1], {}), ([2], {2: 0}), ([2], {2: 1}), ([0, 2], {0: 1, 2: 3})):
        cost, slope = cost_of(logits, words, latest)
        expected = by_enumeration(logits, words, latest)
        if abs(cost - expected) > 1e-6:
            raise SystemExit(f"sequence cost of {words} by {latest}: {cost}, expected {expected}")
        for t, c in itertools.product(range(STEPS), range(CLASSES)):
            moved = [logits.clone(), logits.clone()]
            moved[0][t, c] += 1e-4
            moved[1][t, c] -= 1e-4
            by_changes = (by_enumeration(moved[0], words, latest) - by_enumeration(moved[1], words, latest)) / 2e-4
            if abs(slope[t, c].item() - by_changes) > 1e-5:
                raise SystemExit(f"slope of {words} by {latest} at step {t}, class {c}: {slope[t, c].item()}, expected {by_changes}")


if __name__ == "__main__":
    main()
