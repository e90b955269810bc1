// Packs a file as a host does that compresses once and serves often: `node brotli.mjs FILE PACKED`.
import { readFile, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { brotliCompress, constants } from "node:zlib";

// How long the blocks are that the packer looks at, as powers of two, and how it counts distances. Which of
// them suits a text is chance: the app with a hundred bytes more was 1.6 kB larger with the one and no larger
// with another. All are tried, at the highest level, and the smallest is kept.
const BLOCKS = [16, 18, 20];
const DISTANCES = [constants.BROTLI_MODE_GENERIC, constants.BROTLI_MODE_FONT];

const [file, packed] = process.argv.slice(2);
const bytes = await readFile(file);
const pack = promisify(brotliCompress);
const trials = await Promise.all(BLOCKS.flatMap((block) => DISTANCES.map((mode) => pack(bytes, { params: {
  [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
  [constants.BROTLI_PARAM_LGWIN]: 22,
  [constants.BROTLI_PARAM_LGBLOCK]: block,
  [constants.BROTLI_PARAM_MODE]: mode,
  [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
} }))));
trials.sort((one, other) => one.length - other.length);
await writeFile(packed, trials[0]);
