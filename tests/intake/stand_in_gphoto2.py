"""Speaks as gphoto2 2.5.28 does, for a camera that no test has. Run as a program of that name.

Its sentences are those that the real program holds and prints (seen in it, and at a disk in place of a camera);
how a camera's files come one after the other is from memory. `CAMERA` is a folder: what lies in it is what the
camera takes, in the order of names; `UNPLUG` there takes the camera away, `BUSY` lets another program hold it,
`PAIRS` sets it to raw and JPEG.
"""

import os
import shutil
import signal
import sys
import tempfile
import time
from pathlib import Path

CAMERA = Path(os.environ["CAMERA"])
NOTES = ("UNPLUG", "BUSY", "PAIRS")


def main(arguments: list[str]) -> int:
    if "--auto-detect" in arguments:
        print(f"{'Model':<30} Port            \n{'-' * 58}")
        if CAMERA.is_dir():
            print(f"{'Nikon DSC D750':<30} usb:001,004     ")
        return 0
    if "--get-config" in arguments:
        if arguments[-1] != "imagequality":
            return failed(-2, "Bad parameters")
        word = "NEF+Fine" if (CAMERA / "PAIRS").exists() else "JPEG Fine"
        print(f"Label: Image Quality\nReadonly: 0\nType: RADIO\nCurrent: {word}\nChoice: 0 JPEG Basic\nEND")
        return 0
    assert "--capture-tethered" in arguments
    assert "--keep" in arguments
    if (CAMERA / "BUSY").exists():
        return failed(-53, "Could not claim the USB device")
    return take(next(option for option in arguments if option.startswith("--filename=")))


def take(pattern: str) -> int:
    print("Waiting for events from camera. Press Ctrl-C to abort.", flush=True)
    aborted: list[int] = []
    signal.signal(signal.SIGINT, lambda number, _: aborted.append(number))
    taken: set[str] = set()
    while not aborted:
        for shot in sorted(CAMERA.iterdir()):
            if shot.name == "UNPLUG":
                return failed(-52, "Could not find the requested device on the USB port")
            if shot.name not in taken and shot.name not in NOTES:
                taken.add(shot.name)
                download(shot, pattern)
        time.sleep(0.05)
    print("\nAborting...\nAborted.", flush=True)
    return 0


def download(shot: Path, pattern: str) -> None:
    name = pattern.partition("=")[2].replace("%f", shot.stem).replace("%C", shot.suffix[1:])
    number, arriving = tempfile.mkstemp(prefix="tmpfile", dir=".")
    os.close(number)
    shutil.copyfile(shot, arriving)
    Path(arriving).rename(name)
    print(
        f"Saving file as {name}\nKeeping file /store_00010001/DCIM/100NCD75/{shot.name} on the camera", flush=True
    )


def failed(number: int, said: str) -> int:
    print(f"\n*** Error ***              \n{said}\n*** Error ({number}: '{said}') ***       \n", flush=True)
    return 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
