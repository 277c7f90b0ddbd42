/** One home or host has a whole /64 of addresses of the newer kind, so all of it counts as one. */
export function networkOf(address: string): string {
  if (!address.includes(':') || address.includes('.')) return address;
  const [head = '', tail] = address.split('::');
  const left = head === '' ? [] : head.split(':');
  const right = tail === undefined || tail === '' ? [] : tail.split(':');
  const zeros = Array.from({ length: Math.max(0, 8 - left.length - right.length) }, () => '0');
  return [...left, ...zeros, ...right].slice(0, 4).join(':');
}
