/**
 * An invented photo: the head of a JPEG of this size (ITU-T T.81: SOI, a frame header of one gray
 * component, a comment), and in the comment what would be seen on it. There is no picture behind.
 */
export function jpegOf(shows: string, { widthPx = 1_600, heightPx = 1_200 } = {}): Uint8Array {
  const comment = Buffer.from(shows);
  return Buffer.concat([
    Uint8Array.of(0xff, 0xd8),
    Uint8Array.of(0xff, 0xc0, 0, 11, 8, ...uint16(heightPx), ...uint16(widthPx), 1, 1, 0x11, 0),
    Uint8Array.of(0xff, 0xfe, ...uint16(comment.length + 2)),
    comment,
    Uint8Array.of(0xff, 0xd9),
  ]);
}

function uint16(value: number): [number, number] {
  return [value >> 8, value & 0xff];
}
