/**
 * Remembers what was worked out for an object that never changes, by a key, for as long as the
 * object is in use. Only for pure functions of that object and key.
 */
export function rememberedFor<Owner extends object, Value>(): (
  owner: Owner,
) => (key: string, work: () => Value) => Value {
  const all = new WeakMap<Owner, Map<string, Value>>();
  return (owner) => {
    const known = all.get(owner) ?? new Map<string, Value>();
    all.set(owner, known);
    return (key, work) => {
      const before = known.get(key);
      if (before !== undefined) return before;
      const value = work();
      known.set(key, value);
      return value;
    };
  };
}
