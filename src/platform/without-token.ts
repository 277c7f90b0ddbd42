/**
 * An address as it may be kept: where its path itself lets somebody in, below `/q/`, that is left
 * out. The router also knows an address whose letters are written as percent signs, so this does.
 */
export function withoutToken(address: string): string {
  const [path = ''] = address.split('?');
  const [, first = ''] = path.split('/');
  return decoded(first).toLowerCase() === 'q' ? '/q/[left out]' : address;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}
