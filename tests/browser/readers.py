"""What ZBar and zxing-cpp read on the photographs of folders: a list beside each, for readers.mjs."""

import sys
import time

import numpy
import zxingcpp
from pyzbar.pyzbar import ZBarSymbol, decode


def zbar(picture):
    return [found.data.decode("utf-8", "replace") for found in decode(picture, symbols=[ZBarSymbol.QRCODE])]


def zxing(picture):
    return [found.text for found in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]


for folder in sys.argv[1:]:
    with open(f"{folder}/list.tsv", encoding="utf-8") as list_file, open(
        f"{folder}/others.tsv", "w", encoding="utf-8"
    ) as out:
        for line in list_file:
            at, _, _, text = line.rstrip("\n").split("\t")
            with open(f"{folder}/{at}.pgm", "rb") as file:
                _, size, _, pixels = file.read().split(b"\n", 3)
            width, height = map(int, size.split())
            picture = numpy.frombuffer(pixels, dtype=numpy.uint8).reshape(height, width)
            for name, reader in (("ZBar", zbar), ("zxing-cpp", zxing)):
                begun = time.perf_counter()
                texts = reader(picture)
                took = (time.perf_counter() - begun) * 1000
                verdict = "right" if text and text in texts else "none"
                if any(found != text for found in texts):
                    verdict = "false"
                out.write(f"{at}\t{name}\t{verdict}\t{took:.2f}\n")
