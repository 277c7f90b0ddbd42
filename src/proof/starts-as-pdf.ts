/** Viewers accept a PDF that begins a little later; ours never do, and neither does this. */
export function startsAsPdf(bytes: Uint8Array): boolean {
  return Buffer.from(bytes.subarray(0, 5)).toString('latin1') === '%PDF-';
}
