import { type PhotoMediaType, photoMediaTypeOf } from './photo-media-type.ts';

/** How large a picture is, as its own header says; both at least 1. */
export interface PhotoSize {
  widthPx: number;
  heightPx: number;
}

/**
 * The size of an image in pixels, from its header alone: nothing is decoded, so a small file that
 * would unfold into a huge picture costs nothing. A turn noted in its metadata is not applied.
 * @returns undefined when the header is cut short, contradicts itself, or says no size
 */
export function photoSize(bytes: Uint8Array): PhotoSize | undefined {
  const mediaType = photoMediaTypeOf(bytes);
  if (mediaType === undefined) return undefined;
  const size = readers[mediaType](new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength));
  return size !== undefined && size.widthPx > 0 && size.heightPx > 0 ? size : undefined;
}

const readers: Record<PhotoMediaType, (view: DataView) => PhotoSize | undefined> = {
  'image/jpeg': sizeOfJpeg,
  'image/png': sizeOfPng,
  'image/webp': sizeOfWebp,
};

/**
 * ITU-T T.81 annex B: after SOI come segments of tables and applications, each with its length,
 * and then the frame header, which has the size. Previews lie inside a segment and are passed over.
 */
function sizeOfJpeg(view: DataView): PhotoSize | undefined {
  let at = 2;
  while (at + 4 <= view.byteLength) {
    if (view.getUint8(at) !== 0xff) return undefined;
    const marker = view.getUint8(at + 1);
    const length = view.getUint16(at + 2);
    if (marker === 0xff) at += 1;
    else if (jpegFrames.has(marker)) return sizeOfJpegFrame(view, at + 2);
    else if (isJpegPreamble(marker) && length >= 2) at += 2 + length;
    else return undefined;
  }
  return undefined;
}

/**
 * SOF0 to SOF3 and SOF9 to SOF11. The others are steps of a hierarchical image, whose final size
 * stands elsewhere; no camera makes one.
 */
const jpegFrames = new Set([0xc0, 0xc1, 0xc2, 0xc3, 0xc9, 0xca, 0xcb]);

/** DHT, DAC, DQT, DRI, APPn and COM: all that may stand before the frame header (T.81 B.2.4). */
function isJpegPreamble(marker: number): boolean {
  const isTable = [0xc4, 0xcc, 0xdb, 0xdd].includes(marker);
  return isTable || (marker >= 0xe0 && marker <= 0xef) || marker === 0xfe;
}

/**
 * T.81 B.2.2: length, precision, lines, samples per line, and three bytes for each component. Zero
 * lines would mean that the number comes after the scan; that is no size yet.
 */
function sizeOfJpegFrame(view: DataView, at: number): PhotoSize | undefined {
  if (at + 8 > view.byteLength) return undefined;
  const length = view.getUint16(at);
  const components = view.getUint8(at + 7);
  if (components === 0 || length !== 8 + 3 * components) return undefined;
  if (at + length > view.byteLength) return undefined;
  return { widthPx: view.getUint16(at + 5), heightPx: view.getUint16(at + 3) };
}

/** W3C PNG section 11.2.1: the first chunk is IHDR, 13 bytes and a check sum. */
function sizeOfPng(view: DataView): PhotoSize | undefined {
  if (view.byteLength < 33 || view.getUint32(8) !== 13 || fourCcAt(view, 12) !== 'IHDR') {
    return undefined;
  }
  return { widthPx: view.getUint32(16), heightPx: view.getUint32(20) };
}

/** RFC 9649 section 2: what the first chunk after the RIFF header is called says where to look. */
function sizeOfWebp(view: DataView): PhotoSize | undefined {
  if (view.byteLength < 25) return undefined;
  switch (fourCcAt(view, 12)) {
    case 'VP8 ':
      return sizeOfVp8(view);
    case 'VP8L':
      return sizeOfVp8l(view);
    case 'VP8X':
      return sizeOfVp8x(view);
    default:
      return undefined;
  }
}

/** RFC 6386 section 9.1: a key frame, its start code, two sizes of 14 bits under a scale of 2. */
function sizeOfVp8(view: DataView): PhotoSize | undefined {
  if (view.byteLength < 30) return undefined;
  const isKeyFrame = (view.getUint8(20) & 1) === 0;
  const startCode = (view.getUint16(23) << 8) | view.getUint8(25);
  if (!isKeyFrame || startCode !== 0x9d012a) return undefined;
  return {
    widthPx: view.getUint16(26, true) & 0x3fff,
    heightPx: view.getUint16(28, true) & 0x3fff,
  };
}

/** RFC 9649 section 3.4: a signature, two sizes less one of 14 bits, alpha, version 0. */
function sizeOfVp8l(view: DataView): PhotoSize | undefined {
  const header = view.getUint32(21, true);
  if (view.getUint8(20) !== 0x2f || header >>> 29 !== 0) return undefined;
  return { widthPx: (header & 0x3fff) + 1, heightPx: ((header >>> 14) & 0x3fff) + 1 };
}

/** RFC 9649 section 2.7.1: flags, then the canvas, two sizes less one of 24 bits. */
function sizeOfVp8x(view: DataView): PhotoSize | undefined {
  if (view.byteLength < 30 || view.getUint32(16, true) < 10) return undefined;
  const uint24 = (at: number) => view.getUint16(at, true) | (view.getUint8(at + 2) << 16);
  return { widthPx: uint24(24) + 1, heightPx: uint24(27) + 1 };
}

function fourCcAt(view: DataView, at: number): string {
  return String.fromCharCode(...[0, 1, 2, 3].map((offset) => view.getUint8(at + offset)));
}
