"""Log mel energies as the app computes them (src/lib/voice/features/mel.ts), for a batch of sounds at once."""

import math

import torch

SAMPLE_RATE = 16000
HOP = 160
BANDS = 32
SIZE = 512
WINDOW = 400
LOW_HZ, HIGH_HZ = 60, 3800
#: Rows of silence before the first sample: with the first step's 8 they fill the network's view of 76.
ROWS_BEFORE = 68


def _to_mel(hz: float) -> float:
    return hz / (200 / 3) if hz < 1000 else 15 + math.log(hz / 1000) / (math.log(6.4) / 27)


def _to_hz(mel: float) -> float:
    return mel * 200 / 3 if mel < 15 else 1000 * math.exp((math.log(6.4) / 27) * (mel - 15))


def _bands() -> torch.Tensor:
    low, high = _to_mel(LOW_HZ), _to_mel(HIGH_HZ)
    edges = [_to_hz(low + (high - low) * i / (BANDS + 1)) for i in range(BANDS + 2)]
    hz = torch.arange(SIZE // 2 + 1, dtype=torch.float64) * SAMPLE_RATE / SIZE
    rows = []
    for left, centre, right in zip(edges, edges[1:], edges[2:]):
        rise, fall = (hz - left) / (centre - left), (right - hz) / (right - centre)
        rows.append(torch.minimum(rise, fall).clamp(min=0) * 2 / (right - left))
    return torch.stack(rows, 1)


class Mel(torch.nn.Module):
    def __init__(self) -> None:
        super().__init__()
        window = torch.zeros(SIZE, dtype=torch.float64)
        i = torch.arange(WINDOW, dtype=torch.float64)
        before = (SIZE - WINDOW) // 2
        window[before : before + WINDOW] = 0.5 - 0.5 * torch.cos(2 * math.pi * i / WINDOW)
        self.register_buffer("window", (window * 32768).float())
        self.register_buffer("bands", _bands().float())

    def forward(self, sounds: torch.Tensor) -> torch.Tensor:
        """Sounds [batch, samples] at 16 kHz, -1 to 1, to rows [batch, ROWS_BEFORE + samples // 160, 32], silence before included."""
        padded = torch.nn.functional.pad(sounds, (ROWS_BEFORE * HOP + SIZE - HOP, 0))
        frames = padded.unfold(1, SIZE, HOP)
        power = torch.fft.rfft(frames * self.window).abs().square()
        energy = power @ self.bands
        return (10 * torch.log10(energy.clamp(min=1e-10))).clamp(min=0) / 10 + 2
