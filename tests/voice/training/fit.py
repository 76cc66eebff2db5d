"""
Fits the network and the head together: scenes in batches of like length, Adam, a rate that falls by half a cosine, the mean of the last
weights. Usage: fit.py FOLDER NAME…, where NAME is a fold (0 to 4) whose speakers are left out, or all. The same seed draws the same
scenes on the same kind of machine; a graphics card adds up in no fixed order, so the numbers may differ a little from run to run.
"""

import sys
import time
from dataclasses import dataclass
from pathlib import Path

import numpy
import torch

from ctc import ctc_slope
from mel import Mel
from network import EMBEDDING_SIZE, Embedding, Head
from scenes import Batch, Scene, Stage, read


@dataclass
class Settings:
    epochs: int = 12
    #: of the head; the embedding network, which is trained already, learns at a share of it
    rate: float = 2e-3
    embedding_share: float = 0.1
    decay: float = 0.02
    keep: float = 0.55
    keep_input: float = 0.9
    jitter: float = 0.3
    hidden: int = 192
    span: int = 8
    hidden_span: int = 3
    #: longest batch, in seconds of sound
    batch_s: float = 500.0
    #: share of the running mean of the weights that is kept at each step
    mean: float = 0.998
    seed: int = 1


#: How much a scene counts: people more than synthesisers, whose number is ours to choose.
WEIGHTS = {
    "word": 2, "string": 1, "other": 2, "talk": 1.5, "in talk": 1.5, "noise": 1,
    "synthetic word": 0.5, "synthetic string": 0.3, "synthetic other": 0.5,
}
WARM_STEPS = 100


class Ears(torch.nn.Module):
    """Mel rows to logits of every step of 80 ms."""

    def __init__(self, embedding: Embedding, head: Head, settings: Settings) -> None:
        super().__init__()
        self.embedding, self.head, self.settings = embedding, head, settings

    def forward(self, rows: torch.Tensor) -> torch.Tensor:
        with torch.autocast(rows.device.type, torch.bfloat16, enabled=self.training and rows.is_cuda):
            vectors = self.embedding(rows)
        return self.head(vectors.float(), self.settings.keep_input, self.settings.keep, self.settings.jitter)


def _warped(rows: torch.Tensor) -> torch.Tensor:
    """Half the scenes by a speaker with another length of throat: bands read from a little higher or lower (Jaitly and Hinton, 2013)."""
    n, _, bands = rows.shape
    factor = torch.where(torch.rand(n, device=rows.device) < 0.5, 1 + 0.12 * (2 * torch.rand(n, device=rows.device) - 1), 1.0)
    place = (torch.arange(bands, device=rows.device) * factor[:, None]).clamp(max=bands - 1)
    low = place.floor().long().clamp(max=bands - 2)
    part = (place - low)[:, None]
    pick = lambda at: rows.gather(2, at[:, None].expand_as(rows))
    return pick(low) * (1 - part) + pick(low + 1) * part


def _masked(rows: torch.Tensor) -> torch.Tensor:
    """Up to five bands left out, in two scenes of five (Park and others, "SpecAugment", Interspeech 2019), at the scene's mean."""
    n, _, bands = rows.shape
    first = torch.randint(0, bands, (n, 1), device=rows.device)
    count = torch.randint(1, 6, (n, 1), device=rows.device) * (torch.rand(n, 1, device=rows.device) < 0.4)
    band = torch.arange(bands, device=rows.device)
    out = (band >= first) & (band < first + count)
    return torch.where(out[:, None], rows.mean((1, 2), keepdim=True), rows)


def _batches(scenes: list[Scene], stage: Stage, chance: numpy.random.Generator, longest_s: float) -> list[list[Scene]]:
    """Scenes of like length together, the batches in a chance order."""
    seconds = lambda s: 1.5 + sum(stage.pieces.length[p] for p in s.pieces) / 16000 + 0.2 * len(s.pieces)
    length = numpy.array([seconds(s) for s in scenes])
    order = numpy.argsort(length * chance.uniform(0.85, 1.15, len(scenes)))
    batches, batch, most = [], [], 0.0
    for i in order:
        most = max(most, length[i])
        if batch and most * (len(batch) + 1) > longest_s:
            batches.append(batch)
            batch, most = [], length[i]
        batch.append(scenes[i])
    batches.append(batch)
    chance.shuffle(batches)
    return batches


def _begun(start: numpy.ndarray, words: int, rows: torch.Tensor, settings: Settings) -> Ears:
    """The published network, and a head that has learnt nothing yet but how the network's numbers are spread over `rows`."""
    torch.manual_seed(settings.seed)
    embedding = Embedding(start).to(rows.device, memory_format=torch.channels_last)
    with torch.no_grad():
        vectors = embedding(rows).reshape(-1, EMBEDDING_SIZE)
    head = Head(words, settings.hidden, settings.span, settings.hidden_span, vectors.mean(0), vectors.std(0).clamp(min=1e-3))
    return Ears(embedding, head.to(rows.device), settings)


class Learner:
    """One pair of network and head that learns, its optimiser, and the running mean of its weights, which is what is kept."""

    def __init__(self, ears: Ears, left_out: int | None) -> None:
        self.ears, self.left_out = ears, left_out
        settings = ears.settings
        shares = ((ears.head, 1.0, settings.decay), (ears.embedding, settings.embedding_share, 0.0))
        groups = [{"params": list(part.parameters()), "share": share, "weight_decay": decay} for part, share, decay in shares if share > 0]
        self.adam = torch.optim.AdamW(groups, lr=settings.rate, fused=next(ears.parameters()).is_cuda)
        self.mean = [p.detach().clone() for p in ears.parameters()]

    def learn(self, rows: torch.Tensor, batch: Batch, weight: torch.Tensor, rate: float) -> torch.Tensor:
        """One step on the scenes that have a weight; returns their summed cost."""
        for group in self.adam.param_groups:
            group["lr"] = rate * group["share"]
        logits = self.ears.train()(rows)
        costs, slope = ctc_slope(logits, batch.steps, batch.words, batch.counts, batch.deadline)
        self.adam.zero_grad()
        logits.backward(slope * weight[:, None, None] / len(weight))
        torch.nn.utils.clip_grad_norm_(self.ears.parameters(), 5)
        self.adam.step()
        with torch.no_grad():
            torch._foreach_lerp_(self.mean, list(self.ears.parameters()), 1 - self.ears.settings.mean)
        return (costs * weight).sum()

    def kept(self) -> Ears:
        """The ears with the mean weights; they learn no more."""
        with torch.no_grad():
            torch._foreach_copy_(list(self.ears.parameters()), self.mean)
        return self.ears.eval()


def fit(stage: Stage, scenes: list[Scene], words: int, start: numpy.ndarray, settings: Settings, left_out: list[int | None], tell=print) -> list[Ears]:
    """One pair for each fold left out (None: none), all on the same scenes as they are drawn; a scene of the fold counts for nothing."""
    device = stage.pieces.sound.device
    torch.manual_seed(settings.seed)
    chance = numpy.random.default_rng(settings.seed)
    mel = Mel().to(device)
    synthetic = [s for s in scenes if s.fold < 0]
    rows = mel(stage.render([synthetic[i] for i in chance.choice(len(synthetic), 64)]).sounds)
    learners = [Learner(_begun(start, words, rows, settings), fold) for fold in left_out]
    step, began = 0, time.monotonic()
    for epoch in range(settings.epochs):
        batches = _batches(scenes, stage, chance, settings.batch_s)
        total = torch.zeros(len(learners), device=device)
        for at, scene_list in enumerate(batches):
            step += 1
            progress = (epoch + at / len(batches)) / settings.epochs
            rate = settings.rate * min(1, step / WARM_STEPS) * (0.5 + 0.5 * numpy.cos(numpy.pi * progress))
            batch = stage.render(scene_list)
            with torch.no_grad():
                rows = _masked(_warped(mel(batch.sounds)))
            weight = torch.tensor([WEIGHTS[s.kind] for s in scene_list], dtype=torch.float32, device=device)
            fold = torch.tensor([s.fold for s in scene_list], device=device)
            total += torch.stack([one.learn(rows, batch, weight * (fold != (-2 if one.left_out is None else one.left_out)), rate) for one in learners])
        costs = " ".join(f"{x / len(scenes):.3f}" for x in total.tolist())
        tell(f"epoch {epoch + 1} of {settings.epochs}: cost {costs} a scene, {time.monotonic() - began:.0f} s", flush=True)
    return [one.kept() for one in learners]


def main(folder: Path, names: list[str]) -> None:
    settings = Settings()
    # products of 19 bits are exact enough here and several times as fast
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    device = torch.device("cuda" if torch.cuda.is_available() else "cpu")
    pieces, scenes, words = read(folder / "pieces", device)
    start = numpy.fromfile("tests/voice/training/published-embedding.f16", dtype="<f2").astype(numpy.float32)
    left_out = [None if name == "all" else int(name) for name in names]
    heads = fit(Stage(pieces, len(words), settings.seed), scenes, len(words), start, settings, left_out)
    out = folder / "heads"
    out.mkdir(exist_ok=True)
    for name, ears in zip(names, heads):
        ears.embedding.numbers().astype("<f2").tofile(out / f"{name}.embedding.f16")
        ears.head.numbers().astype("<f2").tofile(out / f"{name}.f16")


if __name__ == "__main__":
    main(Path(sys.argv[1]), sys.argv[2:])
