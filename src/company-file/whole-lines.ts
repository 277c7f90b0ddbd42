const NEWLINE = 0x0a;

/**
 * Cuts a stream of bytes into texts of whole lines, each with its end. A line longer than any chunk
 * is put together once, however many chunks it takes.
 * @returns texts of one line or more; what stands after the last end of a line comes last, as it is
 */
export async function* wholeLines(chunks: AsyncIterable<Buffer>): AsyncGenerator<string> {
  let begun: Buffer[] = [];
  for await (const chunk of chunks) {
    const end = chunk.lastIndexOf(NEWLINE) + 1;
    if (end === 0) {
      begun.push(chunk);
      continue;
    }
    yield Buffer.concat([...begun, chunk.subarray(0, end)]).toString('utf8');
    begun = end === chunk.length ? [] : [chunk.subarray(end)];
  }
  if (begun.length > 0) yield Buffer.concat(begun).toString('utf8');
}
