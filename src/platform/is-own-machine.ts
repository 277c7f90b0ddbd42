/** Whether a host, as an address names it, is the machine that asks: what goes there never leaves it. */
export function isOwnMachine(hostname: string): boolean {
  return NAMES.has(hostname.toLowerCase());
}

const NAMES: ReadonlySet<string> = new Set(['localhost', '127.0.0.1', '[::1]', '::1']);
