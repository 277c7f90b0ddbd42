/** `1 job`, `2 jobs`, `12,345 jobs`. */
export function countText(figure: number, one: string, many = `${one}s`): string {
  return `${figure.toLocaleString('en-US')} ${figure === 1 ? one : many}`;
}
