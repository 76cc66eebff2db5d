"""Scenes drawn anew each time: who says what, how fast, in what room, through what microphone, in what noise."""

import json
from dataclasses import dataclass
from pathlib import Path

import numpy
import torch

from mel import SAMPLE_RATE
from noise import noise

STEP = 1280


@dataclass
class Pieces:
    """Every piece of sound, one after another; positions in samples at 16 kHz."""

    sound: torch.Tensor
    start: numpy.ndarray
    length: numpy.ndarray
    loud_end: numpy.ndarray
    path: list[str]


@dataclass
class Scene:
    kind: str
    pieces: list[int]
    runs_on: list[bool]
    words: list[int]
    fold: int


def _twice(kept: torch.Tensor) -> torch.Tensor:
    """Sound at 8 kHz brought to 16 kHz: between each two samples one by a windowed sinc of 32."""
    offsets = torch.arange(-15.5, 16, device=kept.device)
    between = (torch.sinc(offsets) * torch.hann_window(34, periodic=False, device=kept.device)[1:-1])[None, None]
    out = torch.empty(2 * kept.numel(), dtype=torch.int16, device=kept.device)
    out[::2] = kept
    block = 1 << 24
    padded = torch.nn.functional.pad(kept, (15, 16))
    for at in range(0, kept.numel(), block):
        part = padded[at : at + block + 31].float()[None, None]
        made = torch.nn.functional.conv1d(part, between)[0, 0]
        out[2 * at + 1 : 2 * (at + made.numel()) : 2] = made.round().clamp(-32768, 32767).to(torch.int16)
    return out


def read(folder: Path, device: torch.device) -> tuple[Pieces, list[Scene], list[str]]:
    """What `pieces` wrote. Raises FileNotFoundError where it has not run."""
    index = [json.loads(line) for line in (folder / "pieces.jsonl").read_text().splitlines()]
    sound = _twice(torch.from_numpy(numpy.fromfile(folder / "pieces.pcm", dtype="<i2")).to(device))
    field = lambda name: 2 * numpy.array([row[name] for row in index])
    pieces = Pieces(sound, field("start"), field("length"), field("loudEnd"), [row["path"] for row in index])
    rows = map(json.loads, (folder / "scenes.jsonl").read_text().splitlines())
    scenes = [Scene(row["kind"], row["pieces"], row["runsOn"], row["words"], row["fold"]) for row in rows]
    return pieces, scenes, json.loads((folder / "words.json").read_text())


@dataclass
class Batch:
    #: [batch, samples] at 16 kHz
    sounds: torch.Tensor
    #: steps of 80 ms in each scene
    steps: torch.Tensor
    words: torch.Tensor
    counts: torch.Tensor
    #: [batch, words + 1]: the last step at which each may be told
    deadline: torch.Tensor


class Stage:
    """Renders scenes. Chance comes from numpy's and torch's seeded generators."""

    #: Steps after its end in which a word may still be told.
    LATEST = 4
    #: Share of scenes in noise, and how far below the speech it lies in most of them, in dB.
    NOISY = 0.75
    NEAR_DB = (0, 22)

    def __init__(self, pieces: Pieces, words: int, seed: int) -> None:
        self.pieces, self.words = pieces, words
        self.chance = numpy.random.default_rng(seed)

    def _laid_out(self, scene: Scene) -> tuple[list[tuple[int, int, float]], list[int], int]:
        """Where each piece begins and how fast it is played, where its loud part ends, and the whole length: in samples at 16 kHz."""
        chance = self.chance
        at = chance.uniform(0.05, 0.9) * SAMPLE_RATE
        played, ends = [], []
        for piece, runs_on in zip(scene.pieces, scene.runs_on):
            pace = chance.uniform(0.85, 1.18) if chance.random() < 0.7 else 1.0
            played.append((piece, int(at), pace))
            ends.append(int(at + self.pieces.loud_end[piece] / pace))
            at += self.pieces.length[piece] / pace
            at += (chance.uniform(0, 0.06) if runs_on else chance.uniform(0.02, 0.35)) * SAMPLE_RATE
        at += (chance.uniform(0.4, 0.9) if scene.pieces else chance.uniform(1.5, 3)) * SAMPLE_RATE
        return played, ends, int(at)

    def render(self, scenes: list[Scene]) -> Batch:
        laid = [self._laid_out(scene) for scene in scenes]
        device = self.pieces.sound.device
        n, length = len(scenes), -(-max(row[2] for row in laid) // STEP) * STEP
        dry = self._joined([row[0] for row in laid], length)
        sounds = self._mixed(self._in_room(dry), dry, torch.tensor([not s.pieces for s in scenes], device=device))
        most = max(1, max(len(s.words) for s in scenes))
        words = torch.zeros(n, most, dtype=torch.long)
        deadline = torch.full((n, self.words + 1), 10**6)
        for i, (scene, (_, ends, _)) in enumerate(zip(scenes, laid)):
            for k, word in enumerate(scene.words):
                words[i, k] = word
                # a synthesised string is one piece: its words but the last may end anywhere before its end
                end = ends[k] if len(ends) == len(scene.words) else ends[-1]
                deadline[i, word] = end // STEP + self.LATEST
        steps = torch.tensor([row[2] // STEP for row in laid])
        counts = torch.tensor([len(s.words) for s in scenes])
        return Batch(sounds, steps, words.to(device), counts, deadline.to(device))

    def _joined(self, played: list[list[tuple[int, int, float]]], length: int) -> torch.Tensor:
        """The pieces in otherwise silent scenes, by linear interpolation."""
        device = self.pieces.sound.device
        out = torch.zeros(len(played), length, device=device)
        time = torch.arange(length, device=device)
        for k in range(max(len(row) for row in played)):
            rows = [i for i, row in enumerate(played) if len(row) > k]
            piece = numpy.array([played[i][k][0] for i in rows])
            column = lambda values, kind=torch.float64: torch.tensor(numpy.asarray(values), dtype=kind, device=device)[:, None]
            begin = column([played[i][k][1] for i in rows])
            place = (time - begin) * column([played[i][k][2] for i in rows])
            last = column(self.pieces.length[piece]) - 1
            inside = (place >= 0) & (place < last)
            whole = place.clamp(min=0).minimum(last - 1).floor()
            at = whole.long() + column(self.pieces.start[piece], torch.long)
            left, right = self.pieces.sound[at].float(), self.pieces.sound[at + 1].float()
            value = (left + (right - left) * (place - whole).float()) / 32768
            out.index_add_(0, torch.tensor(rows, device=device), torch.where(inside, value, torch.zeros_like(value)))
        return out

    def _in_room(self, dry: torch.Tensor) -> torch.Tensor:
        """Echo for two in five, a colour for one in two: both are filters, so one transform does."""
        n, length = dry.shape
        device, rand = dry.device, lambda low, high: low + (high - low) * torch.rand(n, 1, device=dry.device)
        tail = SAMPLE_RATE // 2
        size = length + tail
        time = torch.arange(tail, device=device) / SAMPLE_RATE
        seconds, share = rand(0.1, 0.7), rand(0.02, 0.9) * (torch.rand(n, 1, device=device) < 0.4)
        decay = 10 ** (-3 * time / seconds)
        echo = torch.randn(n, tail, device=device) * decay * (time > 0.004)
        echo = echo / echo.square().sum(1, keepdim=True).sqrt() * share
        for _ in range(4):
            echo.scatter_add_(1, torch.randint(20, 500, (n, 1), device=device), rand(-0.4, 0.4) * share)
        echo[:, 0] += 1
        spectrum = torch.fft.rfft(dry, n=size) * torch.fft.rfft(echo, n=size)
        turn = torch.exp(-2j * torch.pi * torch.arange(spectrum.shape[1], device=device) / size)
        low, high = (1 - torch.exp(-2 * torch.pi * hz / SAMPLE_RATE) for hz in (rand(1800, 7500), rand(20, 300)))
        smooth = low / (1 - (1 - low) * turn)
        clear = smooth * (1 - high / (1 - (1 - high) * turn))
        bent = clear * (1 - rand(-0.4, 0.6) * turn)
        coloured = torch.rand(n, 1, device=device) < 0.5
        return torch.fft.irfft(spectrum * torch.where(coloured, bent, torch.ones_like(bent)), n=size)[:, :length]

    def _mixed(self, sounds: torch.Tensor, dry: torch.Tensor, empty: torch.Tensor) -> torch.Tensor:
        """Speech at a chance level, in noise for four in five; as 16 bits would hold it."""
        n, length = sounds.shape
        device = sounds.device
        rand = lambda low, high: low + (high - low) * torch.rand(n, 1, device=device)
        level = 10 ** (rand(-42, -12) / 20)
        # the level of speech is that of its loud parts: silence around it would make it seem lower
        loud = dry.abs() > 0.03 * dry.abs().amax(1, keepdim=True)
        rms = ((sounds.square() * loud).sum(1) / loud.sum(1).clamp(min=1)).sqrt()[:, None]
        sounds = torch.where(empty[:, None], torch.zeros_like(sounds), sounds / rms.clamp(min=1e-6) * level)
        near = torch.rand(n, 1, device=device) < 0.6
        below = torch.where(empty[:, None], rand(-10, 35), torch.where(near, rand(*self.NEAR_DB), rand(15, 40)))
        noisy = empty[:, None] | (torch.rand(n, 1, device=device) < self.NOISY)
        sounds = sounds + torch.where(noisy, level * 10 ** (-below / 20), torch.zeros_like(level)) * noise(n, length, device)
        return (sounds.clamp(-1, 1) * 32767).round() / 32768
