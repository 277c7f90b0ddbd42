/** One event of a stream, as it goes over the wire. */
export interface ServerEvent {
  event: string;
  /** What a client names when it comes back; letters without a line break. */
  id: string;
  data: object;
}

/** An event as text (WHATWG HTML living standard, 9.2.5). JSON has no line break of its own. */
export function eventFrame({ event, id, data }: ServerEvent): string {
  return `event: ${event}\nid: ${id}\ndata: ${JSON.stringify(data)}\n\n`;
}

/**
 * What a silent stream says, so that nobody between takes it for dead: a comment, and how far it
 * has come. No client is told of it; whoever comes back names the later place.
 */
export function keepAliveFrame(id: string): string {
  return `: still here\nid: ${id}\n\n`;
}

/** How long a client waits before it comes back. */
export function retryFrame(milliseconds: number): string {
  return `retry: ${milliseconds}\n\n`;
}
