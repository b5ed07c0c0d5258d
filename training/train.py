"""Train the first guess on pictures painted while it learns."""

import argparse
import math
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import torch
from net import CLASSES, FAMILIES, Net
from samples import SHAPES, Sample, Stream
from torch import Tensor
from torch.nn import functional
from torch.utils.data import DataLoader

DEVICE = "cuda" if torch.cuda.is_available() else "cpu"
torch.set_num_threads(4)
PEAK = 3.0
"""Standard deviation of a landmark's heat [px]."""
CLASS_WEIGHT = torch.tensor([0.7, 1.0, 1.0, 2.0, 2.0, 2.0])


class Shelf:
    """The newest painted pictures, by shape; a thread fills it while the net learns from it."""

    def __init__(self, room: int) -> None:
        self.room, self.count = room, 0
        self.rows: dict[tuple[int, int], list[Sample]] = {shape: [] for shape in SHAPES}

    def fill(self, painted: Iterator[Sample]) -> None:
        for sample in painted:
            row = self.rows[sample.labels.shape]
            if len(row) < self.room:
                row.append(sample)
            else:
                row[np.random.randint(self.room)] = sample
            self.count += 1

    def draw(self, size: int) -> list[Sample]:
        weights = np.array([len(row) for row in self.rows.values()], float)
        row = list(self.rows.values())[np.random.choice(len(weights), p=weights / weights.sum())]
        return [row[i] for i in np.random.randint(len(row), size=size)]


def peaks_at(places: Tensor, rows: int, columns: int) -> Tensor:
    """(n, 3, rows, columns) heat of the landmarks at (n, 3, 2) places."""
    y = torch.arange(rows, device=places.device)[None, None, :, None]
    x = torch.arange(columns, device=places.device)[None, None, None, :]
    away = (x - places[:, :, 0, None, None]) ** 2 + (y - places[:, :, 1, None, None]) ** 2
    return torch.exp(-away / (2 * PEAK**2))


def to_device(batch: list[Sample]) -> tuple[Tensor, Tensor, Tensor, Tensor]:
    picture = torch.from_numpy(np.stack([s.picture for s in batch])).to(DEVICE, non_blocking=True)
    labels = torch.from_numpy(np.stack([s.labels for s in batch])).to(DEVICE).long()
    places = torch.from_numpy(np.stack([s.places for s in batch])).to(DEVICE)
    pores = torch.from_numpy(np.stack([s.pores for s in batch])).to(DEVICE)[:, None].float() / 255
    heat = torch.cat([peaks_at(places, pores.shape[2], pores.shape[3]), pores], dim=1)
    family = torch.tensor([s.family for s in batch], device=DEVICE)
    return picture.permute(0, 3, 1, 2).float() / 255, labels, heat, family


def turned(picture: Tensor, labels: Tensor, heat: Tensor, family: Tensor) -> tuple[Tensor, Tensor, Tensor]:
    """Mirror the batch at random; in butts and beads member 1 and toe 1 stay on the left."""
    if torch.rand(()) < 0.5:
        picture, labels, heat = picture.flip(2), labels.flip(1), heat.flip(2)
    if torch.rand(()) < 0.5:
        picture, labels, heat = picture.flip(3), labels.flip(2), heat.flip(3)
        swap = (family == FAMILIES.index("butt")) | (family == FAMILIES.index("bead"))
        both = heat[:, [1, 0, 2, 3]]
        heat = torch.where(swap[:, None, None, None], both, heat)
        other = torch.tensor([0, 2, 1, 4, 3, 5], device=labels.device)[labels]
        labels = torch.where((family == FAMILIES.index("butt"))[:, None, None], other, labels)
    return picture, labels, heat


def crossed(picture: Tensor) -> Tensor:
    """Draw straight lines over some pictures: scratches, segregation and laminations are no edges of the joint."""
    n, _, rows, columns = picture.shape
    y = torch.arange(rows, device=DEVICE, dtype=torch.float32)[None, :, None] / columns
    x = torch.arange(columns, device=DEVICE, dtype=torch.float32)[None, None, :] / columns
    way = torch.rand(n, 1, 1, device=DEVICE) * math.pi
    for _ in range(int(torch.randint(1, 4, ()))):
        one = (n, 1, 1)
        turn = way + 0.05 * torch.randn(one, device=DEVICE)
        cx, cy = torch.rand(one, device=DEVICE), torch.rand(one, device=DEVICE) * rows / columns
        along = (x - cx) * torch.cos(turn) + (y - cy) * torch.sin(turn)
        across = -(x - cx) * torch.sin(turn) + (y - cy) * torch.cos(turn)
        half = 0.05 + 0.5 * torch.rand(one, device=DEVICE) ** 2
        wide = (0.5 + 1.2 * torch.rand(one, device=DEVICE)) / columns
        gone = torch.sin(along * (20 + 60 * torch.rand(one, device=DEVICE))) < -0.3
        broken = gone & (torch.rand(one, device=DEVICE) < 0.3)
        there = torch.exp(-((across / wide) ** 2)) * (along.abs() < half) * ~broken
        depth = torch.rand(one, device=DEVICE) * torch.where(torch.rand(one, device=DEVICE) < 0.8, 0.8, -0.5)
        depth = depth * (torch.rand(one, device=DEVICE) < 0.35)
        picture = picture * (1 - (depth * there)[:, None])
    return picture


def recoloured(picture: Tensor) -> Tensor:
    """Change light, contrast, colour and noise at random, beyond what the painter already did."""
    n = picture.shape[0]
    shape = (n, 1, 1, 1)
    gain = torch.exp(0.25 * torch.randn(n, 3, 1, 1, device=DEVICE) * (torch.rand(shape, device=DEVICE) < 0.7))
    picture = (picture * gain).clamp(1e-4, 1.5) ** torch.exp(0.3 * torch.randn(shape, device=DEVICE))
    grey = picture.mean(dim=1, keepdim=True)
    keep = torch.where(torch.rand(shape, device=DEVICE) < 0.3, 0.0, torch.rand(shape, device=DEVICE) * 0.8 + 0.4)
    picture = grey + keep * (picture - grey)
    picture = torch.where(torch.rand(shape, device=DEVICE) < 0.12, 1 - picture, picture)
    if torch.rand(()) < 0.25:
        small = functional.interpolate(picture, scale_factor=float(torch.rand(())) * 0.5 + 0.4, mode="area")
        picture = functional.interpolate(small, size=picture.shape[2:], mode="bilinear")
    noise = 0.05 * torch.rand(shape, device=DEVICE) ** 2
    return (picture + noise * torch.randn_like(picture)).clamp(0, 1)


def loss_of(net: Net, picture: Tensor, labels: Tensor, heat: Tensor, family: Tensor) -> tuple[Tensor, Tensor]:
    told = functional.one_hot(family, len(FAMILIES)).float()
    told = told * (torch.rand(len(family), 1, device=DEVICE) < 0.8)
    classes, peaks, joint = net(picture, told)
    classes, peaks = classes.float(), peaks.float()
    by_pixel = functional.cross_entropy(classes, labels, weight=CLASS_WEIGHT.to(DEVICE), label_smoothing=0.02)
    share = classes.softmax(dim=1)
    truth = functional.one_hot(labels, CLASSES).permute(0, 3, 1, 2).float()
    both = (share * truth).sum(dim=(2, 3))
    dice = 1 - (2 * both + 20) / (share.sum(dim=(2, 3)) + truth.sum(dim=(2, 3)) + 20)
    weight = 1 + 30 * heat
    by_peak = (weight * functional.binary_cross_entropy_with_logits(peaks, heat, reduction="none")).mean()
    by_joint = functional.cross_entropy(joint.float(), family)
    return by_pixel + dice.mean() + 1.5 * by_peak + 0.1 * by_joint, both.detach()


@torch.no_grad()
def score(net: Net, held: list[list[Sample]]) -> str:
    net.eval()
    worth: list[np.ndarray] = []
    right = 0
    count = 0
    for batch in held:
        picture, labels, _, family = to_device(batch)
        classes, _, _ = net(picture, functional.one_hot(family, len(FAMILIES)).float())
        _, _, blind = net(picture, torch.zeros(len(family), len(FAMILIES), device=DEVICE))
        found = classes.argmax(dim=1)
        right += int((blind.argmax(dim=1) == family).sum())
        count += len(batch)
        four = torch.tensor([0, 1, 1, 2, 2, 3], device=DEVICE)
        for a, b, c, d in zip(four[found], four[labels], found, labels, strict=True):
            row = [float(((a == k) & (b == k)).sum() / max(1, int(((a == k) | (b == k)).sum()))) for k in (1, 2, 3)]
            row.append(float((c == d).float().mean()))
            worth.append(np.array(row))
    net.train()
    table = np.stack(worth)
    return (
        f"IoU median plate {np.median(table[:, 0]):.3f} HAZ {np.median(table[:, 1]):.3f}"
        f" weld {np.median(table[:, 2]):.3f}"
        f" weld<0.9 {np.mean(table[:, 2] < 0.9):.3f} six classes {table[:, 3].mean():.3f} joint {right / count:.3f}"
    )


def export(net: Net, path: Path) -> None:
    net = net.eval().float().cpu()
    torch.onnx.export(
        net,
        (torch.rand(1, 3, 384, 512), torch.zeros(1, len(FAMILIES))),
        str(path),
        input_names=["picture", "joint"],
        output_names=["classes", "heat", "joint_score"],
        dynamic_axes={k: {0: "n", 2: "h", 3: "w"} for k in ("picture", "classes", "heat")}
        | {"joint": {0: "n"}, "joint_score": {0: "n"}},
        opset_version=17,
        dynamo=False,
    )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--minutes", type=float, default=8.5)
    parser.add_argument("--workers", type=int, default=14)
    parser.add_argument("--batch", type=int, default=32)
    parser.add_argument("--start", type=Path, help="weights to go on from")
    parser.add_argument("--first-seed", type=int, default=1_000_000)
    parser.add_argument("--rate", type=float, default=2e-3)
    parser.add_argument("--out", type=Path, default=Path("training/out"))
    args = parser.parse_args()
    args.out.mkdir(parents=True, exist_ok=True)
    began = time.monotonic()
    shelf = Shelf(room=9000)
    loader = DataLoader(Stream(args.first_seed), batch_size=None, num_workers=args.workers, prefetch_factor=8)
    # The painters are forked here, before the first thread and the first word to the GPU: later they would hang.
    painted = iter(loader)
    filling = threading.Thread(target=shelf.fill, args=(painted,), daemon=True)
    filling.start()
    net = Net().to(DEVICE).to(memory_format=torch.channels_last)
    if args.start:
        net.load_state_dict(torch.load(args.start, map_location=DEVICE))
    while shelf.count < 500:
        time.sleep(0.5)
        if time.monotonic() - began > 120:
            raise RuntimeError(f"only {shelf.count} pictures were painted in two minutes; the painters hang")
    print(f"{time.monotonic() - began:.0f} s: first 500 painted", flush=True)
    held = [row[: min(40, len(row))] for row in shelf.rows.values() if row]
    for row in shelf.rows.values():
        del row[: min(40, len(row))]
    smooth = {k: v.detach().clone() for k, v in net.state_dict().items()}
    optimiser = torch.optim.AdamW(net.parameters(), lr=args.rate, weight_decay=1e-2)
    step, spent, said = 0, 0.0, time.monotonic()
    limit = args.minutes * 60
    while (spent := time.monotonic() - began) < limit:
        if not filling.is_alive():
            raise RuntimeError("the painters stopped; learning a few pictures by heart is no training")
        share = spent / limit
        rate = args.rate * min(1.0, (step + 1) / 200) * 0.5 * (1 + math.cos(math.pi * share)) + 1e-5
        for group in optimiser.param_groups:
            group["lr"] = rate
        picture, labels, heat, family = to_device(shelf.draw(args.batch))
        picture, labels, heat = turned(picture, labels, heat, family)
        picture = recoloured(crossed(picture)).to(memory_format=torch.channels_last)
        with torch.autocast(DEVICE, torch.bfloat16):
            loss, _ = loss_of(net, picture, labels, heat, family)
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(net.parameters(), 1.0)
        optimiser.step()
        step += 1
        keep = min(0.998, 1 - 1 / (step + 1))
        for name, value in net.state_dict().items():
            if value.is_floating_point():
                smooth[name].lerp_(value, 1 - keep)
            else:
                smooth[name].copy_(value)
        if time.monotonic() - said > 30:
            said = time.monotonic()
            torch.save(smooth, args.out / "first_guess.pt")
            print(
                f"{spent:4.0f} s step {step} painted {shelf.count} loss {float(loss):.3f} {score(net, held)}",
                flush=True,
            )
    net.load_state_dict(smooth)
    print(f"end: step {step} painted {shelf.count} {score(net, held)}", flush=True)
    torch.save(net.state_dict(), args.out / "first_guess.pt")
    export(net, args.out / "first_guess.onnx")


if __name__ == "__main__":
    main()
