import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { photoMediaTypes } from '../../src/evidence/photo-media-type.ts';
import { photoSize } from '../../src/evidence/photo-size.ts';
import { encodedImages } from '../harness/encoded-images.ts';
import { photoOf } from '../harness/photos.ts';

const size = { widthPx: 320, heightPx: 240 };
/** How many bytes of each form it takes to know the size, as its standard counts them. */
const headBytes: [name: string, bytes: number][] = [
  ['a PNG', 33],
  ['a lossy WebP', 30],
  ['a lossless WebP', 25],
  ['an extended WebP, with transparency', 30],
];

function encoded(name: string): Uint8Array {
  const bytes = encodedImages[name];
  if (bytes === undefined) throw new Error(`there is no ${name}`);
  return bytes;
}

describe('the size of a photo', () => {
  it.each(Object.entries(encodedImages))('is what its encoder wrote: %s', (_, bytes) => {
    expect(photoSize(bytes)).toEqual(size);
  });

  it.each(photoMediaTypes)('is read from every header of a %s', (mediaType) => {
    // 16 bits hold the sides of a JPEG, 24 those of a WebP, 31 those of a PNG.
    const side = fc.integer({ min: 1, max: 65_535 });
    fc.assert(
      fc.property(side, side, fc.string(), (widthPx, heightPx, shows) => {
        const bytes = photoOf(shows, mediaType, { widthPx, heightPx });
        expect(photoSize(bytes)).toEqual({ widthPx, heightPx });
      }),
    );
  });

  it('of a WebP is read in full, up to the largest each of its forms can have', () => {
    // RFC 9649: 2 to the 24th of the extended form; RFC 9649 and 6386: 14 bits of the other two.
    const sides = { widthPx: 1 << 24, heightPx: 1 << 24 };
    expect(photoSize(photoOf('', 'image/webp', sides))).toEqual(sides);
    const lossless = Buffer.from(encoded('a lossless WebP'));
    lossless.writeUInt32LE(0x0fff_ffff, 21);
    expect(photoSize(lossless)).toEqual({ widthPx: 16_384, heightPx: 16_384 });
    const lossy = Buffer.from(encoded('a lossy WebP'));
    // The two highest bits are a scale for showing it, not a size.
    lossy.writeUInt32LE(0xffff_ffff, 26);
    expect(photoSize(lossy)).toEqual({ widthPx: 16_383, heightPx: 16_383 });
  });

  it('of a JPEG is that of the picture, not of a preview in its metadata', () => {
    const preview = photoOf('', 'image/jpeg', { widthPx: 160, heightPx: 120 });
    const photo = photoOf('', 'image/jpeg', size);
    const metadata = [0xff, 0xe1, 0, preview.length + 2, ...preview];
    expect(photoSize(Uint8Array.of(0xff, 0xd8, ...metadata, ...photo.subarray(2)))).toEqual(size);
  });

  it('of a JPEG is found behind fill bytes, which T.81 B.1.1.2 allows before any marker', () => {
    const photo = photoOf('', 'image/jpeg', size);
    const filled = Uint8Array.of(0xff, 0xd8, 0xff, 0xff, 0xff, ...photo.subarray(2));
    expect(photoSize(filled)).toEqual(size);
  });

  it('is read where the bytes lie, in the middle of a larger buffer too', () => {
    const bytes = encoded('a PNG');
    const around = Buffer.concat([Buffer.alloc(7), bytes, Buffer.alloc(7)]);
    expect(photoSize(around.subarray(7, 7 + bytes.length))).toEqual(size);
  });
});

describe('a photo without a size', () => {
  const jpeg = photoOf('', 'image/jpeg', size);
  const png = encoded('a PNG');
  const [lossy, lossless] = [encoded('a lossy WebP'), encoded('a lossless WebP')];
  const forged: [what: string, bytes: Uint8Array][] = [
    ['a JPEG of no lines, whose number would come after the scan', changed(jpeg, 7, 0, 0)],
    ['a JPEG of no width', changed(jpeg, 9, 0, 0)],
    ['a JPEG of no components', changed(jpeg, 11, 0)],
    ['a JPEG whose frame header has another length than its components', changed(jpeg, 5, 12)],
    ['a JPEG whose scan comes before any frame', changed(jpeg, 3, 0xda)],
    ['a JPEG that ends at once', changed(jpeg, 3, 0xd9)],
    ['a hierarchical JPEG', changed(jpeg, 3, 0xde)],
    ['a step of a hierarchical JPEG', changed(jpeg, 3, 0xc5)],
    ['a JPEG with a segment shorter than its own length', changed(jpeg, 3, 0xe0, 0, 1)],
    ['a JPEG whose first segment ends outside the file', changed(jpeg, 3, 0xe0, 0xff, 0xff)],
    ['a JPEG with something else where a marker should be', changed(jpeg, 3, 0xe0, 0, 4)],
    ['a PNG whose first chunk is another', changed(png, 12, 0x49, 0x44, 0x41, 0x54)],
    ['a PNG whose first chunk is too long', changed(png, 11, 14)],
    ['a PNG of no width', changed(png, 16, 0, 0, 0, 0)],
    ['a PNG of no height', changed(png, 20, 0, 0, 0, 0)],
    ['a WebP of an unknown first chunk', changed(lossy, 15, 0x39)],
    ['a lossy WebP that begins in the middle of a film', changed(lossy, 20, 0x51)],
    ['a lossy WebP without its start code', changed(lossy, 23, 0)],
    ['a lossy WebP of no width', changed(lossy, 26, 0, 0)],
    ['a lossless WebP without its signature', changed(lossless, 20, 0)],
    ['a lossless WebP of a later version', changed(lossless, 24, 0x20)],
    ['an extended WebP with too short a head', changed(photoOf('', 'image/webp'), 16, 9)],
    ['a GIF', Buffer.from('GIF89a\x40\x01\xf0\x00')],
    ['nothing', new Uint8Array()],
  ];
  it.each(forged)('is %s', (_, bytes) => {
    expect(photoSize(bytes)).toBeUndefined();
  });

  it.each(headBytes)('is %s cut within its head; a byte more and it has one', (name, bytes) => {
    const whole = encoded(name);
    for (let length = 0; length < bytes; length += 1) {
      expect(photoSize(whole.subarray(0, length)), `${length} bytes`).toBeUndefined();
    }
    expect(photoSize(whole.subarray(0, bytes))).toEqual(size);
  });

  it.each(['a baseline JPEG', 'a progressive JPEG'])(
    'is %s cut before its frame header ends; from then on it has one',
    (name) => {
      const whole = encoded(name);
      const sizes = Array.from(whole, (_, length) => photoSize(whole.subarray(0, length)));
      const first = sizes.findIndex((each) => each !== undefined);
      expect(first).toBeGreaterThan(20);
      expect(new Set(sizes.slice(first).map((each) => JSON.stringify(each)))).toEqual(
        new Set([JSON.stringify(size)]),
      );
    },
  );
});

describe('whatever bytes are sent', () => {
  const heads = [
    [0xff, 0xd8, 0xff],
    [...Buffer.from('\x89PNG\r\n\x1a\n', 'latin1')],
    ...['VP8 ', 'VP8L', 'VP8X', 'ALPH'].map((chunk) => [
      ...Buffer.from(`RIFF\0\0\0\0WEBP${chunk}`),
    ]),
  ];
  const hostile = fc.oneof(
    fc.uint8Array({ maxLength: 200 }),
    fc
      .tuple(fc.constantFrom(...heads), fc.uint8Array({ maxLength: 200 }))
      .map(([head, rest]) => Uint8Array.of(...head, ...rest)),
    fc
      .record({
        image: fc.constantFrom(...Object.values(encodedImages)),
        cutAt: fc.nat(600),
        place: fc.nat(200),
        byte: fc.nat(255),
      })
      .map(({ image, cutAt, place, byte }) => changed(image, place, byte).subarray(0, cutAt)),
  );

  it('there is a size of two whole numbers above 0, or none; never an error', () => {
    const seen = { size: 0, none: 0 };
    fc.assert(
      fc.property(hostile, (bytes) => {
        const found = photoSize(bytes);
        if (found === undefined) {
          seen.none += 1;
          return;
        }
        seen.size += 1;
        for (const side of [found.widthPx, found.heightPx]) {
          expect(Number.isSafeInteger(side) && side > 0).toBe(true);
        }
      }),
      { numRuns: 3_000 },
    );
    expect(Math.min(seen.size, seen.none)).toBeGreaterThan(100);
  });
});

function changed(image: Uint8Array, at: number, ...values: number[]): Uint8Array {
  return Uint8Array.from(image, (byte, index) => values[index - at] ?? byte);
}
