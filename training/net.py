"""The net behind the first guess: a small encoder and decoder, told which joint to expect."""

import torch
from torch import Tensor, nn

FAMILIES = ("tee", "lap", "corner", "butt", "bead")
CLASSES = 6  # surroundings, plate 1, plate 2, HAZ 1, HAZ 2, weld metal
HEAT = 4  # toe 1, toe 2, joint root, pore
WIDTHS = (32, 64, 96, 128, 192)


def _conv(inputs: int, outputs: int, stride: int = 1) -> nn.Sequential:
    return nn.Sequential(
        nn.Conv2d(inputs, outputs, 3, stride, 1, bias=False), nn.BatchNorm2d(outputs), nn.ReLU(inplace=True)
    )


class Stage(nn.Module):
    """Two convolutions with a short cut."""

    def __init__(self, inputs: int, outputs: int, stride: int = 1) -> None:
        super().__init__()
        self.first = _conv(inputs, outputs, stride)
        self.second = _conv(outputs, outputs)

    def forward(self, x: Tensor) -> Tensor:
        x = self.first(x)
        return x + self.second(x)


class Net(nn.Module):
    """(n, 3, h, w) picture in 0..1 and (n, 5) joint, one-hot or all zero -> classes, heat, joint.

    Height and width are multiples of 32. The answers come at the size of the input.
    """

    def __init__(self) -> None:
        super().__init__()
        self.stem = _conv(3, WIDTHS[0], 2)
        self.down = nn.ModuleList(
            [Stage(WIDTHS[0], WIDTHS[0])] + [Stage(WIDTHS[i], WIDTHS[i + 1], 2) for i in range(len(WIDTHS) - 1)]
        )
        self.tell = nn.Linear(len(FAMILIES), WIDTHS[-1])
        self.middle = nn.Sequential(*[Stage(WIDTHS[-1], WIDTHS[-1]) for _ in range(2)])
        self.look_round = nn.Sequential(nn.Linear(WIDTHS[-1], WIDTHS[-1]), nn.ReLU(), nn.Linear(WIDTHS[-1], WIDTHS[-1]))
        self.up = nn.ModuleList([Stage(WIDTHS[i + 1] + WIDTHS[i], WIDTHS[i]) for i in reversed(range(len(WIDTHS) - 1))])
        self.out = nn.Conv2d(WIDTHS[0], CLASSES + HEAT, 3, padding=1)
        self.joint = nn.Linear(WIDTHS[-1], len(FAMILIES))

    def forward(self, picture: Tensor, joint: Tensor) -> tuple[Tensor, Tensor, Tensor]:
        # Each picture is centred by itself, so that dim and bright pictures look alike to the net.
        mean = picture.mean(dim=(2, 3), keepdim=True)
        spread = (picture - mean).pow(2).mean(dim=(1, 2, 3), keepdim=True).sqrt()
        x = self.stem((picture - mean) / (spread + 0.02))
        kept = []
        for stage in self.down:
            x = stage(x)
            kept.append(x)
        told = joint @ self.tell.weight.T
        x = self.middle(x + told[:, :, None, None])
        whole = x.mean(dim=(2, 3))
        x = x + self.look_round(whole)[:, :, None, None]
        for stage, skip in zip(self.up, reversed(kept[:-1]), strict=True):
            x = nn.functional.interpolate(x, scale_factor=2.0, mode="bilinear", align_corners=False)
            x = stage(torch.cat([x, skip], dim=1))
        x = nn.functional.interpolate(self.out(x), scale_factor=2.0, mode="bilinear", align_corners=False)
        return x[:, :CLASSES], x[:, CLASSES:], self.joint(whole)
