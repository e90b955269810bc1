// Photographs as phones make them, and what stands in a JPEG. Layout: ITU-T T.81, annex B; Exif 2.3,
// sections 4.5 and 4.6; TIFF 6.0, section 2.

// What the camera wrote beside the picture: its place, and a name that occurs nowhere else.
export const SECRET = "QUILLCAM-41";

// A photograph of this size, drawn by the browser, without anything beside the picture. Every number
// gives another one.
export async function plainPhoto(page, { width = 4032, height = 3024, number = 0, grain = 6000 } = {}) {
  const bytes = await page.evaluate(
    async ({ width, height, number, grain }) => {
      const canvas = document.createElement("canvas");
      canvas.width = width;
      canvas.height = height;
      const context = canvas.getContext("2d");
      // Studs and boards, with a grain that does not compress to nothing.
      let seed = 7 + number;
      const dice = () => (seed = (seed * 16807) % 2147483647) / 2147483647;
      for (let at = 0; at < grain; at += 1) {
        context.fillStyle = `hsl(${20 + dice() * 40} 40% ${20 + dice() * 60}%)`;
        context.fillRect(dice() * width, dice() * height, 8 + dice() * (width / 40), 8 + dice() * (height / 20));
      }
      const blob = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.9));
      const url = await new Promise((done) => {
        const reader = new FileReader();
        reader.onload = () => done(reader.result);
        reader.readAsDataURL(blob);
      });
      return url.split(",")[1];
    },
    { width, height, number, grain },
  );
  return Buffer.from(bytes, "base64");
}

// The same with an Exif block: turned by a quarter (orientation 6: the left side is the upper one),
// with a maker, and with the place where it was taken.
export function withExif(jpeg) {
  const tiff = Buffer.alloc(200);
  tiff.write("MM\0*", 0, "latin1");
  tiff.writeUInt32BE(8, 4);
  const entry = (at, tag, type, count, value) => {
    tiff.writeUInt16BE(tag, at);
    tiff.writeUInt16BE(type, at + 2);
    tiff.writeUInt32BE(count, at + 4);
    value(at + 8);
  };
  const long = (value) => (at) => tiff.writeUInt32BE(value, at);
  const short = (value) => (at) => tiff.writeUInt16BE(value, at);
  // IFD 0: maker (0x010f, ASCII), orientation (0x0112, SHORT), pointer to the place (0x8825, LONG).
  tiff.writeUInt16BE(3, 8);
  entry(10, 0x010f, 2, SECRET.length + 1, long(60));
  entry(22, 0x0112, 3, 1, short(6));
  entry(34, 0x8825, 4, 1, long(80));
  tiff.write(`${SECRET}\0`, 60, "latin1");
  // The place: latitude and longitude with their hemispheres, as three rational numbers each.
  tiff.writeUInt16BE(4, 80);
  entry(82, 1, 2, 2, (at) => tiff.write("N\0", at, "latin1"));
  entry(94, 2, 5, 3, long(140));
  entry(106, 3, 2, 2, (at) => tiff.write("W\0", at, "latin1"));
  entry(118, 4, 5, 3, long(164));
  [12, 1, 34, 1, 5678, 100].forEach((value, at) => tiff.writeUInt32BE(value, 140 + at * 4));
  [98, 1, 7, 1, 6543, 100].forEach((value, at) => tiff.writeUInt32BE(value, 164 + at * 4));
  const block = Buffer.concat([Buffer.from("Exif\0\0", "latin1"), tiff]);
  const head = Buffer.alloc(4);
  head.writeUInt16BE(0xffe1, 0);
  head.writeUInt16BE(block.length + 2, 2);
  return Buffer.concat([jpeg.subarray(0, 2), head, block, jpeg.subarray(2)]);
}

// The rational numbers of the place, as they stand in the block of `withExif`.
export const PLACE = Buffer.from([0, 0, 0, 12, 0, 0, 0, 1, 0, 0, 0, 34, 0, 0, 0, 1]);

// The segments of a JPEG up to the picture itself, as { marker, bytes }.
export function segments(jpeg) {
  const found = [];
  let at = 2;
  while (jpeg[at] === 0xff && jpeg[at + 1] !== 0xda) {
    const length = jpeg.readUInt16BE(at + 2);
    found.push({ marker: jpeg[at + 1], bytes: jpeg.subarray(at + 4, at + 2 + length) });
    at += 2 + length;
  }
  return found;
}

// Width and height of a JPEG, from its frame header.
export function sides(jpeg) {
  const frame = segments(jpeg).find(({ marker }) => marker >= 0xc0 && marker <= 0xc2);
  return { width: frame.bytes.readUInt16BE(3), height: frame.bytes.readUInt16BE(1) };
}

// The same picture a little otherwise: one number of the first quantisation table is changed, so
// that the whole looks different to a program and hardly to an eye. Much quicker than drawing anew.
export function another(jpeg, number) {
  const copy = Buffer.from(jpeg);
  const table = segments(jpeg).find(({ marker }) => marker === 0xdb).bytes;
  const from = table.byteOffset - jpeg.byteOffset + 1;
  for (let bit = 0; bit < 10; bit += 1) {
    copy[from + 3 + bit] += (number >> bit) & 1 ? 1 : 0;
  }
  return copy;
}
