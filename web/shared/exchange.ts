// A log as a row of QR codes: deflated (RFC 1951), written in Base45 (RFC 9285, the alphabet of a QR code's alphanumeric
// mode), cut into parts that each say which they are. Parts may be read in any order, and again.

const alphabet = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:';
const start = 'BELLHOLE1';
/** Characters a code: a symbol of some 90 modules, which a phone reads from another phone's screen. */
const most = 700;

async function through(bytes: Uint8Array, stream: GenericTransformStream): Promise<Uint8Array> {
  const piped = new Blob([bytes as BlobPart]).stream().pipeThrough(stream as ReadableWritablePair<Uint8Array, Uint8Array>);
  return new Uint8Array(await new Response(piped).arrayBuffer());
}

export function base45(bytes: Uint8Array): string {
  let text = '';
  for (let i = 0; i < bytes.length; i += 2) {
    const pair = i + 1 < bytes.length;
    const value = pair ? bytes[i]! * 256 + bytes[i + 1]! : bytes[i]!;
    text += alphabet[value % 45]! + alphabet[Math.floor(value / 45) % 45]! + (pair ? alphabet[Math.floor(value / 2025)]! : '');
  }
  return text;
}

export function fromBase45(text: string): Uint8Array {
  const bytes: number[] = [];
  for (let i = 0; i < text.length; i += 3) {
    const digits = [...text.slice(i, i + 3)].map((one) => alphabet.indexOf(one));
    const value = digits.reduceRight((sum, digit) => sum * 45 + digit, 0);
    if (digits.includes(-1) || digits.length === 1 || value > (digits.length === 3 ? 0xffff : 0xff)) throw new RangeError(text);
    bytes.push(...(digits.length === 3 ? [value >> 8, value & 255] : [value]));
  }
  return Uint8Array.from(bytes);
}

/** The texts of the codes. */
export async function parts(lines: string): Promise<string[]> {
  const packed = base45(await through(new TextEncoder().encode(lines), new CompressionStream('deflate-raw')));
  const count = Math.max(Math.ceil(packed.length / most), 1);
  const mark = packed.length.toString(36).toUpperCase();
  return Array.from({ length: count }, (_, i) => `${start}/${mark}/${i + 1}/${count}/${packed.slice(i * most, (i + 1) * most)}`);
}

/** Puts the parts together again. */
export class Collector {
  #mark = '';
  #parts: (string | undefined)[] = [];

  get had(): number {
    return this.#parts.filter((one) => one !== undefined).length;
  }

  get all(): number {
    return this.#parts.length;
  }

  /** Takes what a code says; parts of another log begin anew. Answers whether it was a part at all. */
  add(text: string): boolean {
    const found = /^BELLHOLE1\/([0-9A-Z]+)\/(\d{1,3})\/(\d{1,3})\/(.*)$/.exec(text);
    if (!found) return false;
    const [, mark = '', at, count, body = ''] = found;
    if (mark !== this.#mark) {
      this.#mark = mark;
      this.#parts = Array.from({ length: Number(count) }, () => undefined);
    }
    this.#parts[Number(at) - 1] = body;
    return true;
  }

  /** The lines, once every part is there. */
  async lines(): Promise<string | undefined> {
    if (this.all === 0 || this.had < this.all) return undefined;
    return new TextDecoder().decode(await through(fromBase45(this.#parts.join('')), new DecompressionStream('deflate-raw')));
  }
}
