/**
 * The keys of a record literal in the order they were written, typed as its own keys.
 * Only for literals of this folder: the cast is sound because such a record has no other keys.
 */
export function keysOf<T extends Record<string, unknown>>(record: T): (keyof T & string)[] {
  return Object.keys(record) as (keyof T & string)[];
}
