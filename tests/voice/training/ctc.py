"""
Connectionist temporal classification in which a word must be told soon after its end: who speaks waits, so the head may not.
Source: A. Graves, S. Fernández, F. Gomez, J. Schmidhuber, "Connectionist temporal classification", ICML 2006.
"""

import torch
from torch.nn import functional

#: A probability of nothing: a logarithm whose exponential is 0.
NEVER = -1e4


def ctc_slope(logits: torch.Tensor, steps: torch.Tensor, words: torch.Tensor, counts: torch.Tensor, deadline: torch.Tensor):
    """
    Costs [batch] of the sequences, and their slopes by the logits. Logits [batch, time, classes], "no word" last; words [batch, most]
    with counts; deadline [batch, classes]: the last step at which each class may be told. `steps` and `counts` lie in the processor's
    memory, where the library wants them. A sequence that does not fit costs 0.
    """
    log_p = functional.log_softmax(logits.detach(), 2)
    late = torch.arange(logits.shape[1], device=logits.device)[None, :, None] > deadline[:, None, :]
    allowed = log_p.masked_fill(late, NEVER).transpose(0, 1).requires_grad_()
    costs = functional.ctc_loss(allowed, words, steps, counts, blank=logits.shape[2] - 1, reduction="none", zero_infinity=True)
    (slope,) = torch.autograd.grad(costs.sum(), allowed)
    # the library's slope is probability minus share of the paths, of the masked probabilities: ours is of all
    fits = (costs.detach() > 0).float() * (costs.detach() < -NEVER / 2).float()
    share = (allowed.detach().exp() - slope).transpose(0, 1)
    within = (torch.arange(logits.shape[1], device=logits.device)[None, :] < steps.to(logits.device)[:, None]).float()
    return costs.detach() * fits, (log_p.exp() - share) * (within * fits[:, None])[:, :, None]
