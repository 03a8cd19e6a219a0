"""The segmenter's network: small, U-shaped, of depthwise separable convolutions (Howard et al. 2017, MobileNets;
Ronneberger et al. 2015, U-Net).

In: (n, 3, height, width) RGB from 0 to 1, both sides multiples of 32. Out: (n, 6, height, width): logits of
`print` (any print's paper), `edge` (a thin band over every outline, also between prints that touch), `core` (a
print less its rim, so that prints that touch are apart) and `seam` (the edge that two prints share); then how far
`across` and `down` the middle of its print lies from each place, in halves of the frame's long side.
"""

from __future__ import annotations

import numpy as np
import onnx
import torch
from onnx import TensorProto, helper, numpy_helper
from torch import Tensor, nn

CHANNELS = ("print", "edge", "core", "seam", "across", "down")
TOLD = 4
"""The channels that are logits, the first."""

WIDTHS = (16, 32, 80, 176, 288)
REPEATS = (1, 2, 3, 3)


def convolution(
    inputs: int, outputs: int, size: int, *, stride: int = 1, spread: int = 1, groups: int = 1
) -> nn.Module:
    """A convolution without bias, its normalisation and a rectifier."""
    padding = spread * (size // 2)
    return nn.Sequential(
        nn.Conv2d(inputs, outputs, size, stride, padding, dilation=spread, groups=groups, bias=False),
        nn.BatchNorm2d(outputs),
        nn.ReLU(inplace=True),
    )


class Separable(nn.Module):
    """Each channel filtered by itself, then all mixed at each place; added to what came in where shapes agree."""

    def __init__(self, inputs: int, outputs: int, *, stride: int = 1, spread: int = 1, size: int = 3) -> None:
        super().__init__()
        self.filter = convolution(inputs, inputs, size, stride=stride, spread=spread, groups=inputs)
        self.mix = convolution(inputs, outputs, 1)
        self.adds = stride == 1 and inputs == outputs

    def forward(self, seen: Tensor) -> Tensor:
        mixed: Tensor = self.mix(self.filter(seen))
        return seen + mixed if self.adds else mixed


class Segmenter(nn.Module):
    """Down to a thirty-second of the size, where dilated filters see the whole frame, and up again to a half;
    each place of the half tells the four of the full size."""

    def __init__(self, widths: tuple[int, ...] = WIDTHS) -> None:
        super().__init__()
        first, *deeper = widths
        self.stem = nn.Sequential(convolution(3, first, 3, stride=2), Separable(first, first))
        self.down = nn.ModuleList(
            nn.Sequential(Separable(a, b, stride=2), *(Separable(b, b) for _ in range(repeats)))
            for a, b, repeats in zip(widths[:-1], deeper, REPEATS, strict=True)
        )
        self.context = nn.Sequential(*(Separable(widths[-1], widths[-1], spread=s) for s in (2, 4, 2, 1)))
        pairs = list(zip(widths[:0:-1], widths[-2::-1], strict=True))
        self.narrow = nn.ModuleList(convolution(deep, shallow, 1) for deep, shallow in pairs)
        self.merge = nn.ModuleList(
            nn.Sequential(*(Separable(shallow, shallow) for _ in range(1 if shallow == first else 2)))
            for _, shallow in pairs
        )
        self.tell = nn.Conv2d(first, 4 * len(CHANNELS), 3, padding=1)

    def forward(self, rgb: Tensor) -> Tensor:
        levels = [self.stem(rgb * 4 - 2)]
        for down in self.down:
            levels.append(down(levels[-1]))
        seen = self.context(levels.pop())
        for narrow, merge in zip(self.narrow, self.merge, strict=True):
            seen = nn.functional.interpolate(narrow(seen), scale_factor=2.0, mode="nearest")
            seen = merge(seen + levels.pop())
        return nn.functional.pixel_shuffle(self.tell(seen), 2)


def parameters(network: nn.Module) -> int:
    """How many numbers are learnt."""
    return sum(p.numel() for p in network.parameters())


def export(network: nn.Module, path: str, size: tuple[int, int]) -> None:
    """Write the network as ONNX, weights in 16 bits; any size runs, the sample has (height, width) `size`."""
    network = network.eval().cpu().float()
    sample = torch.zeros(1, 3, *size)
    torch.onnx.export(
        network, (sample,), path, input_names=["rgb"], output_names=["logits"], opset_version=13, dynamo=False
    )
    onnx.save(_halved(onnx.load(path)), path)


def _halved(model: onnx.ModelProto) -> onnx.ModelProto:
    """The same model, each large set of weights kept in 16 bits and widened when it is read: half the bytes."""
    kept, casts = [], []
    for weights in model.graph.initializer:
        numbers = numpy_helper.to_array(weights)
        if numbers.dtype == np.float32 and numbers.size > 64:
            kept.append(numpy_helper.from_array(numbers.astype(np.float16), weights.name + ".half"))
            casts.append(helper.make_node("Cast", [kept[-1].name], [weights.name], to=TensorProto.FLOAT))
        else:
            kept.append(weights)
    nodes = [*casts, *model.graph.node]
    del model.graph.initializer[:], model.graph.node[:]
    model.graph.initializer.extend(kept)
    model.graph.node.extend(nodes)
    onnx.checker.check_model(model)
    return model
