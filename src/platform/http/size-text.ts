/** A size of whole kibibytes as people read it: `256 KiB`, `16 MiB`. */
export function sizeText(bytes: number): string {
  const kibibytes = bytes / 1024;
  return kibibytes < 1024 ? `${kibibytes} KiB` : `${kibibytes / 1024} MiB`;
}
