"""Trains the print segmenter for a set time and writes it as ONNX; see README.md beside this file.

python training/segmenter.py --photographs DIR --out DIR --minutes 8
"""

from __future__ import annotations

import argparse
import copy
import json
import math
import os
import time
from collections.abc import Iterator
from pathlib import Path

import cv2
import numpy as np
import torch
from network import CHANNELS, TOLD, Segmenter, export, parameters
from pool import Pool
from torch import Tensor, nn
from truths import ACROSS, CORE, DOWN, EDGE, PRINT, SEAM, UNSURE

RATE = 4e-3
WARM_UP = 300
AVERAGED = 0.998
EDGE_WEIGHT = 3.0
SEAM_WEIGHT = 5.0
"""How much more a pixel near an edge, and near a seam, counts than others: there are far fewer of them."""

POINTING = 1.0
"""Weight of the two channels that point to a print's middle."""

SIZES = ((480, 640), (480, 640), (384, 512), (256, 320), (256, 320))
"""Heights and widths that the network sees in turn: single prints small, several large."""

PIXELS = 128 * 256 * 320
"""Of one batch; so many more scenes are in one of small ones."""


def main() -> None:
    """Train, report, and write `segmenter.onnx`, `segmenter.pt` and `segmenter.json`."""
    options = _options()
    began = time.monotonic()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(options.seed)
    torch.backends.cudnn.benchmark = device == "cuda"
    torch.backends.cudnn.benchmark_limit = 3  # trying all ways of every size and layer takes minutes
    workers = options.workers or max(1, len(os.sched_getaffinity(0)) - 1)
    pool = Pool(options.photographs, size=options.pool, check=options.check, seed=options.seed, workers=workers)
    while not pool.validated or pool.ready < min(1500, len(pool.training)):
        time.sleep(0.2)
    print(
        f"{time.monotonic() - began:.0f} s: {len(pool.validation)} scenes to validate, {pool.ready} to learn from"
    )
    try:
        best, facts = _train(pool, options, device, began)
    finally:
        pool.stop()
    facts |= {
        "seed": options.seed,
        "minutes": options.minutes,
        "torch": torch.__version__,
        "device": _name(device),
    }
    _write(best, facts, options.out)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument(
        "--photographs", type=Path, required=True, help="folder of pictures to print in the scenes"
    )
    parser.add_argument("--out", type=Path, required=True, help="folder to write into")
    parser.add_argument("--minutes", type=float, default=8.0, help="when to stop, from the start")
    parser.add_argument("--share", type=float, default=1.0, help="of the usual batch: less on a small machine")
    parser.add_argument("--pool", type=int, default=8192, help="scenes kept in memory, 3 MB each")
    parser.add_argument("--check", type=int, default=480, help="scenes to validate with")
    parser.add_argument("--every", type=float, default=30.0, help="seconds between validations")
    parser.add_argument("--workers", type=int, help="processes that draw scenes; all cores but one")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--start", type=Path, help="segmenter.pt to go on from")
    parser.add_argument("--rate", type=float, default=RATE, help="learning rate at the start")
    return parser.parse_args()


def _name(device: str) -> str:
    return torch.cuda.get_device_name() if device == "cuda" else "CPU"


def _train(
    pool: Pool, options: argparse.Namespace, device: str, began: float
) -> tuple[Segmenter, dict[str, object]]:
    """Learn until the time is up; the network that validated best, and what was seen."""
    network = Segmenter()
    if options.start:
        network.load_state_dict(torch.load(options.start, weights_only=True))
    network = network.to(device, memory_format=torch.channels_last)
    slow = copy.deepcopy(network).eval()
    optimiser = torch.optim.AdamW(network.parameters(), lr=options.rate, weight_decay=1e-2)
    best, best_score, facts, looked, start = slow, -1.0, {}, time.monotonic(), time.monotonic()
    end = began + 60 * options.minutes
    for step, (rgb, truths) in enumerate(_batches(pool, options, device), 1):
        now = time.monotonic()
        done = min(1.0, (now - start) / max(1.0, end - start))
        rate = options.rate * min(1.0, step / WARM_UP) * (0.5 + 0.5 * math.cos(math.pi * done))
        for group in optimiser.param_groups:
            group["lr"] = rate
        _step(network, optimiser, rgb, truths, device)
        _follow(slow, network, min(AVERAGED, step / (step + 20)))
        if done < 1 and now - looked < options.every:
            continue
        seen = validate(slow, pool.validation, device)
        print(f"{now - began:4.0f} s  step {step}  {pool.drawn} scenes drawn  {json.dumps(seen)}", flush=True)
        if seen["score"] > best_score:
            best, best_score = copy.deepcopy(slow), seen["score"]
            facts = {"steps": step, "scenes_drawn": pool.drawn, "validation": seen}
        if done >= 1:
            break
        looked = time.monotonic()
    return best, facts


def _batches(pool: Pool, options: argparse.Namespace, device: str) -> Iterator[tuple[Tensor, Tensor]]:
    """Batches of changed scenes without end; a slice of what is kept on the device is renewed before each."""
    host = torch.from_numpy(pool.training)
    kept = torch.empty_like(host, device=device) if device == "cuda" else host
    ready, place, turn = 0, 0, 0
    while True:
        if device == "cuda":
            place = 0 if place >= pool.ready else place
            upto = min(pool.ready, place + (16 if ready else pool.ready))
            kept[place:upto] = host[place:upto].to(device)
            ready, place = max(ready, upto), upto
        else:
            ready = pool.ready
        size, turn = SIZES[turn % len(SIZES)], turn + 1
        number = max(2, int(options.share * PIXELS / (size[0] * size[1])))
        chosen = kept[torch.randint(ready, (number,), device=device)]
        yield _changed(*_seen(chosen, size))


def _seen(scenes: Tensor, size: tuple[int, int]) -> tuple[Tensor, Tensor]:
    """Scenes of bytes as pictures and truths, both from 0 to 1 (what points, from -1 to 1), at a size."""
    shares = scenes.permute(0, 3, 1, 2).float() / 255
    if shares.shape[2:] != size:
        shares = nn.functional.interpolate(shares, size, mode="area")
    truths = shares[:, 3:].clone()
    truths[:, ACROSS : DOWN + 1] = (truths[:, ACROSS : DOWN + 1] * 255 - 128) / 127
    return shares[:, :3], truths


def _changed(rgb: Tensor, truths: Tensor) -> tuple[Tensor, Tensor]:
    """The same scenes mirrored, turned, and in other light and colours."""
    number, device = len(rgb), rgb.device

    def draw(low: float, high: float, *shape: int) -> Tensor:
        return low + (high - low) * torch.rand(number, *shape, 1, 1, device=device)

    for axis, pointing in ((2, DOWN), (3, ACROSS)):
        flip = draw(0, 1, 1) < 0.5
        rgb, truths = (torch.where(flip, x.flip(axis), x) for x in (rgb, truths))
        truths[:, pointing] *= 1 - 2 * flip[:, 0].float()
    if torch.rand(()) < 0.5:
        rgb, truths = rgb.transpose(2, 3), truths.transpose(2, 3)
        order = list(range(truths.shape[1]))
        order[ACROSS], order[DOWN] = DOWN, ACROSS
        truths = truths[:, order]
    grey = rgb.mean(1, keepdim=True)
    rgb = torch.lerp(rgb, grey, (draw(-1, 1, 1) * draw(0, 1, 1)).clamp(-0.5, 1))
    rgb = torch.where(draw(0, 1, 1) < 0.15, rgb[:, torch.randperm(3, device=device)], rgb)
    rgb = (rgb * draw(0.75, 1.25, 1) * draw(0.92, 1.08, 3)).clamp(1e-4, 1) ** draw(0.75, 1.35, 1)
    noisy = rgb + draw(0, 0.02, 1) * torch.randn_like(rgb)
    return noisy.clamp(0, 1).contiguous(memory_format=torch.channels_last), truths


def _step(network: nn.Module, optimiser: torch.optim.Optimizer, rgb: Tensor, truths: Tensor, device: str) -> None:
    network.train()
    with torch.autocast(device, torch.bfloat16, enabled=device == "cuda"):
        told = network(rgb)
    loss = _loss(told.float(), truths)
    optimiser.zero_grad(set_to_none=True)
    loss.backward()
    nn.utils.clip_grad_norm_(network.parameters(), 1.0)
    optimiser.step()


def _loss(told: Tensor, truths: Tensor) -> Tensor:
    """Cross entropy where the truth is sure, more at edges and seams and around them; overlap of print, core and
    seam besides; and how far what points misses the middle, in shares of the print's size."""
    sure = 1 - truths[:, UNSURE : UNSURE + 1]
    near = 1 + EDGE_WEIGHT * nn.functional.max_pool2d(truths[:, EDGE : EDGE + 1], 5, 1, 2)
    near = near + SEAM_WEIGHT * nn.functional.max_pool2d(truths[:, SEAM : SEAM + 1], 7, 1, 3)
    wanted = truths[:, :TOLD]
    entropy = nn.functional.binary_cross_entropy_with_logits(told[:, :TOLD], wanted, reduction="none")
    overlap = told.new_zeros(())
    for layer, weight in ((PRINT, 0.3), (CORE, 0.3), (SEAM, 0.1), (EDGE, 0.1)):
        guess = torch.sigmoid(told[:, layer : layer + 1]) * sure
        truth = wanted[:, layer : layer + 1] * sure
        both = (guess * truth).sum((1, 2, 3))
        either = guess.sum((1, 2, 3)) + truth.sum((1, 2, 3))
        overlap = overlap + weight * (1 - (2 * both + 50) / (either + 50)).mean()
    return (entropy * near * sure).mean() + overlap + POINTING * _missed(told[:, TOLD:], truths, sure)


def _missed(pointing: Tensor, truths: Tensor, sure: Tensor) -> Tensor:
    """How far places inside prints point past the middle; small prints count as much as large ones."""
    toward = truths[:, ACROSS : DOWN + 1]
    inside = (truths[:, PRINT : PRINT + 1] > 0.9) * sure
    size = 0.05 + nn.functional.avg_pool2d(toward.norm(dim=1, keepdim=True), 9, 1, 4)
    off = nn.functional.smooth_l1_loss(pointing, toward, reduction="none", beta=0.02).sum(1, keepdim=True)
    return (off / size * inside).sum() / (inside.sum() + 1)


@torch.no_grad()
def _follow(slow: nn.Module, network: nn.Module, keep: float) -> None:
    """Move the averaged network a little towards the one that learns."""
    torch._foreach_lerp_(list(slow.parameters()), list(network.parameters()), 1 - keep)
    for averaged, buffer in zip(slow.buffers(), network.buffers(), strict=True):
        averaged.copy_(buffer)


@torch.no_grad()
def validate(network: nn.Module, scenes: np.ndarray, device: str) -> dict[str, float]:
    """At the largest and at the smallest size: overlap (IoU) of the print layer with the truth, mean and tenth
    percentile over scenes with prints; the share of empty scenes left empty; F1 of edges and seams; the share of
    scenes with one print, and with several, whose cores are as many as the prints. `score` is what the best
    network is chosen by."""
    network.eval()
    seen: dict[str, float] = {}
    for size, name in ((SIZES[0], "large"), (SIZES[-1], "small")):
        seen |= {f"{key}_{name}": value for key, value in _validated(network, scenes, size, device).items()}
    kinds = ("iou", "iou_p10", "empty", "edge", "seam", "one", "several")
    weights = (0.2, 0.1, 0.1, 0.15, 0.15, 0.15, 0.15)
    seen["score"] = sum(
        w * 0.5 * (seen[f"{k}_large"] + seen[f"{k}_small"]) for k, w in zip(kinds, weights, strict=True)
    )
    return {name: round(value, 4) for name, value in seen.items()}


def _validated(network: nn.Module, scenes: np.ndarray, size: tuple[int, int], device: str) -> dict[str, float]:
    overlaps, empty, lines, counted = [], [], np.zeros((2, 3)), ([], [])
    for first in range(0, len(scenes), 32):
        rgb, truths = _seen(torch.from_numpy(scenes[first : first + 32]).to(device), size)
        sure = truths[:, UNSURE : UNSURE + 1] < 0.5
        told, truth = (network(rgb.contiguous())[:, :TOLD] > 0) & sure, (truths[:, :TOLD] > 0.5) & sure
        for k, layer in enumerate((EDGE, SEAM)):
            pair = told[:, layer], truth[:, layer]
            lines[k] += [float(x.sum()) for x in (pair[0] & pair[1], *pair)]
        both = (told & truth)[:, PRINT].sum((1, 2)).tolist()
        either = (told | truth)[:, PRINT].sum((1, 2)).tolist()
        prints = truth[:, PRINT].sum((1, 2)).tolist()
        cores = told[:, CORE].cpu().numpy(), truth[:, CORE].cpu().numpy()
        for k, (shared, whole, paper) in enumerate(zip(both, either, prints, strict=True)):
            if paper > 100:
                overlaps.append(shared / whole)
                number, wanted = (_pieces(layer[k]) for layer in cores)
                if wanted:
                    counted[min(wanted, 2) - 1].append(float(number == wanted))
            elif paper == 0:
                empty.append(float(whole < 100))
    f1 = 2 * lines[:, 0] / np.maximum(1, lines[:, 1] + lines[:, 2])
    mean, tenth = float(np.mean(overlaps)), float(np.percentile(overlaps, 10))
    seen = {"iou": mean, "iou_p10": tenth, "empty": float(np.mean(empty or [1]))}
    seen |= {"edge": float(f1[0]), "seam": float(f1[1])}
    return seen | {"one": float(np.mean(counted[0] or [0])), "several": float(np.mean(counted[1] or [0]))}


def _pieces(mask: np.ndarray) -> int:
    """How many pieces of some size a mask has."""
    _, _, stats, _ = cv2.connectedComponentsWithStats(mask.astype(np.uint8), connectivity=4)
    return int((stats[1:, cv2.CC_STAT_AREA] > 0.0004 * mask.size).sum())


def _write(network: Segmenter, facts: dict[str, object], out: Path) -> None:
    """The weights in both forms, read back by OpenCV and compared, and the facts."""
    out.mkdir(parents=True, exist_ok=True)
    network = network.cpu().float().eval().to(memory_format=torch.contiguous_format)
    torch.save(network.state_dict(), out / "segmenter.pt")
    facts = {"channels": CHANNELS, "parameters": parameters(network), **facts}
    (out / "segmenter.json").write_text(json.dumps(facts, indent=1) + "\n", encoding="utf-8")
    file = out / "segmenter.onnx"
    export(network, str(file), (256, 320))
    print(json.dumps(facts), f"{file.stat().st_size} bytes", flush=True)
    sample = np.random.default_rng(0).random((1, 3, 256, 320), np.float32)
    read = cv2.dnn.readNetFromONNX(str(file))
    read.setInput(sample)
    with torch.no_grad():
        apart = np.abs(read.forward() - network(torch.from_numpy(sample)).numpy()).max()
    print(f"OpenCV {cv2.__version__} reads it; logits differ by {apart:.1e} at most")


if __name__ == "__main__":
    main()
