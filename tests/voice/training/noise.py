"""Noise of a laboratory for training: hiss, pumps, fans, clicks, alarms. Invented spectra, no recording's; apart from the bench's own."""

import math

import torch

from mel import SAMPLE_RATE

KINDS = ("white", "pink", "brown", "pump", "fan", "clicks", "alarm")


def _uniform(shape, low: float, high: float, like: torch.Tensor) -> torch.Tensor:
    return low + (high - low) * torch.rand(shape, device=like.device)


def _sloped(white: torch.Tensor, power: float) -> torch.Tensor:
    """Noise whose amplitude falls with frequency to `power`, level below 20 Hz."""
    spectrum = torch.fft.rfft(white)
    hz = torch.arange(spectrum.shape[1], device=white.device) * SAMPLE_RATE / white.shape[1]
    return torch.fft.irfft(spectrum * hz.clamp(min=20) ** -power, n=white.shape[1])


def _unit(x: torch.Tensor) -> torch.Tensor:
    return x / x.square().mean(1, keepdim=True).sqrt().clamp(min=1e-9)


def _pump(n: int, time: torch.Tensor) -> torch.Tensor:
    """Mains hum with harmonics, beaten by a piston, over a low rush."""
    base = _uniform((n, 1), 23, 62, time)
    hum = torch.zeros(n, time.numel(), device=time.device)
    for k in range(1, 13):
        level = torch.rand((n, 1), device=time.device) / (1 + 0.5 * (k - 1))
        hum += level * torch.sin(2 * math.pi * base * k * time + _uniform((n, 1), 0, 6.28, time))
    beat = 1 + _uniform((n, 1), 0, 0.7, time) * torch.sin(2 * math.pi * _uniform((n, 1), 1, 14, time) * time)
    return _unit(hum * beat) + _uniform((n, 1), 0.1, 1, time) * _unit(_sloped(torch.randn_like(hum), 1))


def _fan(n: int, time: torch.Tensor) -> torch.Tensor:
    """A rush with a blade tone that wanders."""
    rush = _unit(_sloped(torch.randn(n, time.numel(), device=time.device), 0.5))
    wander = _uniform((n, 1), 0.05, 0.6, time)
    tone = _uniform((n, 1), 80, 700, time)
    phase = 2 * math.pi * tone * time - 0.03 * tone / wander * torch.cos(2 * math.pi * wander * time)
    return rush + _uniform((n, 1), 0, 1, time) * torch.sin(phase)


def _clicks(n: int, time: torch.Tensor) -> torch.Tensor:
    """Knocks at chance times, each decaying and ringing at a pitch of its own."""
    out = 0.01 * torch.randn(n, time.numel(), device=time.device)
    seconds = time.numel() / SAMPLE_RATE
    often = _uniform((n, 1), 0.3, 5, time)
    for _ in range(max(1, math.ceil(4 * seconds))):
        since = time - _uniform((n, 1), -0.3, seconds, time)
        used = torch.rand((n, 1), device=time.device) < often / 4
        decay = _uniform((n, 1), math.log(0.001), math.log(0.12), time).exp()
        ring = torch.sin(2 * math.pi * _uniform((n, 1), 100, 4000, time) * since)
        knock = (-since.clamp(min=0) / decay).exp() * (ring + _uniform((n, 1), 0, 1, time) * torch.randn_like(out))
        out += torch.where((since > 0) & used, _uniform((n, 1), 0.2, 2, time) * knock, torch.zeros_like(out))
    return out


def _alarm(n: int, time: torch.Tensor) -> torch.Tensor:
    """Beeps of one to three pitches with overtones, in a rhythm."""
    on, off = _uniform((n, 1), 0.05, 0.8, time), _uniform((n, 1), 0.05, 1, time)
    turn = time / (on + off)
    within = (turn - turn.floor()) * (on + off)
    pitches = _uniform((n, 3), 300, 3500, time)
    count = torch.randint(1, 4, (n, 1), device=time.device)
    hz = pitches.gather(1, turn.floor().long() % count)
    wave = torch.sin(2 * math.pi * hz * time) + _uniform((n, 1), 0, 0.6, time) * torch.sin(4 * math.pi * hz * time)
    square = torch.rand((n, 1), device=time.device) < 0.4
    wave = torch.where(square, torch.sign(wave), wave)
    edge = (within * 200).clamp(max=1) * ((on - within) * 200).clamp(0, 1)
    return wave * edge + 0.01 * torch.randn_like(wave)


def noise(n: int, length: int, device: torch.device) -> torch.Tensor:
    """`n` noises of chance kinds (pink most often) and so many samples, each at root mean square 1."""
    time = torch.arange(length, device=device) / SAMPLE_RATE
    kinds = torch.where(torch.rand(n) < 0.3, torch.full((n,), 1), torch.randint(0, len(KINDS), (n,)))
    out = torch.empty(n, length, device=device)
    for k, kind in enumerate(KINDS):
        rows = (kinds == k).nonzero()[:, 0].to(device)
        count = rows.numel()
        if count == 0:
            continue
        white = torch.randn(count, length, device=device)
        made = {
            "white": lambda: white, "pink": lambda: _sloped(white, 0.5), "brown": lambda: _sloped(white, 1),
            "pump": lambda: _pump(count, time), "fan": lambda: _fan(count, time),
            "clicks": lambda: _clicks(count, time), "alarm": lambda: _alarm(count, time),
        }[kind]()
        out[rows] = _unit(made)
    return out
