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
from network import CHANNELS, Segmenter, export, parameters
from pool import Pool
from torch import Tensor, nn

RATE = 4e-3
WARM_UP = 300
AVERAGED = 0.998
EDGE_WEIGHT = 3.0
"""How much more a pixel of an edge counts than one beside it: there are far fewer of them."""


def main() -> None:
    """Train, report, and write `segmenter.onnx`, `segmenter.pt` and `segmenter.json`."""
    options = _options()
    began = time.monotonic()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(options.seed)
    torch.backends.cudnn.benchmark = device == "cuda"
    workers = options.workers or max(1, len(os.sched_getaffinity(0)) - 1)
    pool = Pool(options.photographs, size=options.pool, check=options.check, seed=options.seed, workers=workers)
    while not pool.validated or pool.ready < min(2048, options.pool):
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
    parser.add_argument("--batch", type=int, default=128)
    parser.add_argument("--pool", type=int, default=16384, help="scenes kept in memory, 0.57 MB each")
    parser.add_argument("--check", type=int, default=960, help="scenes to validate with")
    parser.add_argument("--every", type=float, default=30.0, help="seconds between validations")
    parser.add_argument("--workers", type=int, help="processes that draw scenes; all cores but one")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--start", type=Path, help="segmenter.pt to go on from")
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
    optimiser = torch.optim.AdamW(network.parameters(), lr=RATE, weight_decay=1e-2)
    best, best_score, facts, looked, start = slow, -1.0, {}, time.monotonic(), time.monotonic()
    end = began + 60 * options.minutes
    for step, (rgb, truths) in enumerate(_batches(pool, options, device), 1):
        now = time.monotonic()
        done = min(1.0, (now - start) / max(1.0, end - start))
        rate = RATE * min(1.0, step / WARM_UP) * (0.5 + 0.5 * math.cos(math.pi * done))
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
    ready, place = 0, 0
    while True:
        if device == "cuda":
            place = 0 if place >= pool.ready else place
            upto = min(pool.ready, place + (options.batch // 4 if ready else pool.ready))
            kept[place:upto] = host[place:upto].to(device)
            ready, place = max(ready, upto), upto
        else:
            ready = pool.ready
        chosen = kept[torch.randint(ready, (options.batch,), device=device)]
        chosen = chosen.permute(0, 3, 1, 2).float() / 255
        yield _changed(chosen[:, :3], chosen[:, 3:])


def _changed(rgb: Tensor, truths: Tensor) -> tuple[Tensor, Tensor]:
    """The same scenes mirrored, turned, and in other light and colours."""
    number, device = len(rgb), rgb.device

    def draw(low: float, high: float, *shape: int) -> Tensor:
        return low + (high - low) * torch.rand(number, *shape, 1, 1, device=device)

    for axis in (2, 3):
        flip = draw(0, 1, 1) < 0.5
        rgb, truths = (torch.where(flip, x.flip(axis), x) for x in (rgb, truths))
    if torch.rand(()) < 0.5:
        rgb, truths = rgb.transpose(2, 3), truths.transpose(2, 3)
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
    """Cross entropy where the truth is sure, more at edges and around them; overlap of print and core besides."""
    sure = 1 - truths[:, 3:]
    near = 1 + EDGE_WEIGHT * nn.functional.max_pool2d(truths[:, 1:2], 7, 1, 3)
    entropy = nn.functional.binary_cross_entropy_with_logits(told, truths[:, :3], reduction="none")
    overlap = 0.0
    for layer in (0, 2):
        guess = torch.sigmoid(told[:, layer : layer + 1]) * sure
        truth = truths[:, layer : layer + 1] * sure
        both = (guess * truth).sum((1, 2, 3))
        overlap = overlap + 1 - (2 * both + 50) / (guess.sum((1, 2, 3)) + truth.sum((1, 2, 3)) + 50)
    return (entropy * near * sure).mean() + 0.3 * torch.as_tensor(overlap).mean()


@torch.no_grad()
def _follow(slow: nn.Module, network: nn.Module, keep: float) -> None:
    """Move the averaged network a little towards the one that learns."""
    torch._foreach_lerp_(list(slow.parameters()), list(network.parameters()), 1 - keep)
    for averaged, buffer in zip(slow.buffers(), network.buffers(), strict=True):
        averaged.copy_(buffer)


@torch.no_grad()
def validate(network: nn.Module, scenes: np.ndarray, device: str) -> dict[str, float]:
    """Overlap (IoU) of the print layer with the truth: mean and tenth percentile over scenes with prints, the
    share of empty scenes left empty, F1 of the edge layer; `score` is what the best network is chosen by."""
    network.eval()
    overlaps, empty, edge = [], [], np.zeros(3)
    for first in range(0, len(scenes), 64):
        batch = torch.from_numpy(scenes[first : first + 64]).to(device).permute(0, 3, 1, 2).float() / 255
        told, truth, sure = network(batch[:, :3].contiguous()) > 0, batch[:, 3:6] > 0.5, batch[:, 6] < 0.5
        told, truth = told & sure[:, None], truth & sure[:, None]
        both = (told & truth).sum((2, 3)).float()
        either = (told | truth).sum((2, 3)).float()
        edge += [float((x[:, 1]).sum()) for x in (both, told.float().sum((2, 3)), truth.float().sum((2, 3)))]
        for shared, whole, prints in zip(both[:, 0], either[:, 0], truth[:, 0].sum((1, 2)), strict=True):
            if prints > 100:
                overlaps.append(float(shared / whole))
            elif prints == 0:
                empty.append(float(whole < 100))
    mean, tenth, clear = float(np.mean(overlaps)), float(np.percentile(overlaps, 10)), float(np.mean(empty or [1]))
    seen = {"iou": mean, "iou_p10": tenth, "empty": clear, "edge_f1": 2 * edge[0] / max(1.0, edge[1] + edge[2])}
    seen["score"] = 0.5 * mean + 0.2 * tenth + 0.1 * clear + 0.2 * seen["edge_f1"]
    return {name: round(value, 4) for name, value in seen.items()}


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
