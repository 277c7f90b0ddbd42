import { remembered } from './remembered-for.ts';

/** Everything that was read, each as point.quantity. */
export const readKeysOf = remembered((facts): ReadonlySet<string> => {
  return new Set(facts.readings.map(({ point, quantity }) => `${point}.${quantity}`));
});
