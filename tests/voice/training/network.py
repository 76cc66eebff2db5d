"""The speech embedding network and the head, as the app runs them (src/lib/voice/features/embedding.ts, head-network.ts)."""

import numpy
import torch
from torch import nn
from torch.nn import functional

EMBEDDING_SIZE = 96
SLOPE, LEAST = 0.2, -0.4


def _wide(before: int, after: int) -> tuple:
    return before, after, 1, 3, None


def _long(size: int, pool: tuple | None = None) -> tuple:
    return size, size, 3, 1, pool


#: from, to, extent in time, extent in bands, rows and bands pooled after it
LAYERS = [
    (1, 24, 3, 3, None),
    _wide(24, 24), _long(24, (2, 2)),
    _wide(24, 48), _long(48), _wide(48, 48), _long(48, (1, 2)),
    _wide(48, 72), _long(72), _wide(72, 72), _long(72, (2, 2)),
    _wide(72, 96), _long(96), _wide(96, 96), _long(96, (1, 2)),
    _wide(96, 96), _long(96), _wide(96, 96), _long(96, (2, 2)),
    (96, 96, 3, 1, None),
]


class Embedding(nn.Module):
    """Mel rows [batch, 76 + 8 n, 32] to [batch, n + 1, 96]."""

    def __init__(self, numbers: numpy.ndarray) -> None:
        """`numbers`: for each layer its biases (none in the last), then its filters as [to][time][bands][from]."""
        super().__init__()
        self.convolutions = nn.ModuleList()
        at = 0
        for index, (before, after, time, bands, _) in enumerate(LAYERS):
            last = index == len(LAYERS) - 1
            layer = nn.Conv2d(before, after, (time, bands), padding=(0, bands // 2), bias=not last)
            if not last:
                layer.bias.data = torch.tensor(numbers[at : at + after], dtype=torch.float32)
                at += after
            count = before * after * time * bands
            filters = numbers[at : at + count].reshape(after, time, bands, before)
            layer.weight.data = torch.tensor(filters.transpose(0, 3, 1, 2).copy(), dtype=torch.float32)
            at += count
            self.convolutions.append(layer)
        if at != numbers.size:
            raise ValueError(f"embedding network: {numbers.size} numbers, expected {at}")

    def forward(self, rows: torch.Tensor) -> torch.Tensor:
        x = rows[:, None]
        for layer, (_, _, _, _, pool) in zip(self.convolutions, LAYERS):
            x = layer(x)
            if layer.bias is not None:
                x = functional.leaky_relu(x, SLOPE).clamp(min=LEAST)
            if pool:
                x = functional.max_pool2d(x, pool)
        return x[..., 0].transpose(1, 2)

    def numbers(self) -> numpy.ndarray:
        """As the constructor takes them."""
        parts = []
        for layer in self.convolutions:
            if layer.bias is not None:
                parts.append(layer.bias.detach())
            parts.append(layer.weight.detach().permute(0, 2, 3, 1).reshape(-1))
        return torch.cat([part.reshape(-1).float().cpu() for part in parts]).numpy()


class Head(nn.Module):
    """Embeddings [batch, steps, 96] to logits [batch, steps, words + 1]; each step sees its own past only."""

    def __init__(self, words: int, hidden: int, span: int, hidden_span: int, mean: torch.Tensor, deviation: torch.Tensor) -> None:
        super().__init__()
        self.words, self.span, self.hidden_span = words, span, hidden_span
        self.register_buffer("mean", mean)
        self.register_buffer("deviation", deviation)
        self.first = nn.Linear(span * EMBEDDING_SIZE, hidden)
        self.second = nn.Linear(hidden_span * hidden, hidden)
        self.last = nn.Linear(hidden, words + 1)
        for layer, scale in ((self.first, 1), (self.second, 1), (self.last, 0.2)):
            # He and others, "Delving deep into rectifiers", ICCV 2015: equation 10
            nn.init.normal_(layer.weight, std=scale * (2 / layer.in_features) ** 0.5)
            nn.init.zeros_(layer.bias)
        # most steps end no word: beginning there saves the first epoch
        nn.init.constant_(self.last.bias[words:], 4)

    @staticmethod
    def _side_by_side(x: torch.Tensor, span: int) -> torch.Tensor:
        """The last `span` steps of each step in one row, oldest first; the first step stands for all before it."""
        padded = torch.cat([x[:, :1].expand(-1, span - 1, -1), x], 1)
        return padded.unfold(1, span, 1).transpose(2, 3).flatten(2)

    def forward(self, vectors: torch.Tensor, keep_input: float = 1, keep: float = 1, jitter: float = 0) -> torch.Tensor:
        x = (vectors - self.mean) / self.deviation
        if self.training:
            # whole channels are left out, scene by scene: the head may not lean on any one
            channels = (torch.rand(x.shape[0], 1, x.shape[2], device=x.device) < keep_input) / keep_input
            x = (x + jitter * torch.randn_like(x)) * channels
        x = functional.dropout(functional.relu(self.first(self._side_by_side(x, self.span))), 1 - keep, self.training)
        x = functional.dropout(functional.relu(self.second(self._side_by_side(x, self.hidden_span))), 1 - keep, self.training)
        return self.last(x)

    def numbers(self) -> numpy.ndarray:
        """As head-network.ts reads them, mean and deviation put into the first layer."""
        scale = (1 / self.deviation).repeat(self.span)
        first = self.first.weight.detach() * scale
        bias = self.first.bias.detach() - first @ self.mean.repeat(self.span)
        width = -(-(self.words + 1) // 8) * 8
        last = functional.pad(self.last.weight.detach(), (0, 0, 0, width - self.words - 1))
        last_bias = functional.pad(self.last.bias.detach(), (0, width - self.words - 1))
        layers = ((first, bias), (self.second.weight.detach(), self.second.bias.detach()), (last, last_bias))
        return torch.cat([part.reshape(-1).float().cpu() for weight, bias in layers for part in (weight.t(), bias)]).numpy()
