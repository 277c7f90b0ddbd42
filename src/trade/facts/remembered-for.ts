import type { Facts } from './admit-evidence.ts';

/**
 * A pure function of the facts that is worked out once for the same facts, however often asked: some
 * hundred criteria rest on the same few figures. It is forgotten with the facts.
 */
export function remembered<Value>(work: (facts: Facts) => Value): (facts: Facts) => Value {
  const known = new WeakMap<Facts, { facts: Facts; value: Value }>();
  // Most rules ask in a row about one machine; a look at the last answer is quicker than a search.
  let last: { facts: Facts; value: Value } | undefined;
  return (facts) => {
    if (last?.facts === facts) return last.value;
    const answer = known.get(facts) ?? { facts, value: work(facts) };
    known.set(facts, answer);
    last = answer;
    return answer.value;
  };
}

/** The same for a function of the facts and one thing more, of which there are only a few. */
export function rememberedFor<Key, Value>(
  work: (facts: Facts, key: Key) => Value,
): (facts: Facts, key: Key) => Value {
  const knownOf = remembered(() => new Map<Key, { value: Value }>());
  return (facts, key) => {
    const known = knownOf(facts);
    const before = known.get(key);
    if (before !== undefined) return before.value;
    const value = work(facts, key);
    known.set(key, { value });
    return value;
  };
}
