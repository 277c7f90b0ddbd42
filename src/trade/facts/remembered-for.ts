import type { Facts } from './admit-evidence.ts';

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

/** A pure function of the facts that is worked out once for the same facts, however often asked. */
export function remembered<Value>(work: (facts: Facts) => Value): (facts: Facts) => Value {
  const known = new WeakMap<Facts, { value: Value }>();
  return (facts) => {
    const before = known.get(facts);
    if (before !== undefined) return before.value;
    const value = work(facts);
    known.set(facts, { value });
    return value;
  };
}
