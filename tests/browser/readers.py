"""What ZBar and zxing-cpp read on the photographs of folders, and how long each call took: a list beside
each, for readers.mjs, and the times of each reader as a line."""

import statistics
import sys
import time

import numpy


def zbar():
    from pyzbar.pyzbar import ZBarSymbol, decode

    def read(picture):
        return [found.data.decode("utf-8", "replace") for found in decode(picture, symbols=[ZBarSymbol.QRCODE])]

    return read


def zxing():
    import zxingcpp

    def read(picture):
        return [found.text for found in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]

    return read


readers = {}
missing = {}
for name, made in (("zxing-cpp", zxing), ("ZBar", zbar)):
    try:
        readers[name] = made()
    except ImportError as error:
        missing[name] = " ".join(str(error).split())

times = {name: [] for name in readers}
for folder in sys.argv[1:]:
    with open(f"{folder}/list.tsv", encoding="utf-8") as list_file, open(
        f"{folder}/others.tsv", "w", encoding="utf-8"
    ) as out:
        for name, why in missing.items():
            out.write(f"-\t{name}\tmissing\t{why}\n")
        for line in list_file:
            at, _, _, text = line.rstrip("\n").split("\t")
            with open(f"{folder}/{at}.pgm", "rb") as file:
                _, size, _, pixels = file.read().split(b"\n", 3)
            width, height = map(int, size.split())
            picture = numpy.frombuffer(pixels, dtype=numpy.uint8).reshape(height, width)
            for name, reader in readers.items():
                begun = time.perf_counter()
                texts = reader(picture)
                took = (time.perf_counter() - begun) * 1000
                # The sizes are those of a frame of the camera; ours counts the same.
                if (width, height) == (960, 720):
                    times[name].append(took)
                verdict = "right" if text and text in texts else "none"
                if any(found != text for found in texts):
                    verdict = "false"
                out.write(f"{at}\t{name}\t{verdict}\t{took:.3f}\n")
for name, took in times.items():
    print(f"{name}, all: median {statistics.median_high(took):.1f} ms, p95 {sorted(took)[len(took) * 95 // 100]:.1f} ms")
for name, why in missing.items():
    print(f"{name}: not measured: {why}")
