import { Readable } from 'node:stream';

/** How much is held back. Any number above zero keeps the message incomplete. */
const END_BYTES = 16;
const CHUNK_BYTES = 16_384;

/**
 * The bytes of a message as a stream whose last few wait: a server that has all the others does not
 * have the message. Only when `mayEnd` says yes do they follow.
 * @param mayEnd asked once, when everything before the end was taken; false or an error ends the
 *   stream broken off
 */
export function heldBackMessage(bytes: Uint8Array, mayEnd: () => Promise<boolean>): Readable {
  const endsAt = Math.max(0, bytes.length - END_BYTES);
  let position = 0;
  let asked = false;
  return new Readable({
    highWaterMark: CHUNK_BYTES,
    read() {
      if (position < endsAt) {
        const next = Math.min(endsAt, position + CHUNK_BYTES);
        const chunk = bytes.subarray(position, next);
        position = next;
        this.push(chunk);
        return;
      }
      if (asked) return;
      asked = true;
      mayEnd().then(
        (may) => {
          if (this.destroyed) return;
          if (!may) {
            this.destroy(new Error('the message was called back before its end'));
            return;
          }
          this.push(bytes.subarray(endsAt));
          this.push(null);
        },
        (error: unknown) => this.destroy(error instanceof Error ? error : new Error(String(error))),
      );
    },
  });
}
