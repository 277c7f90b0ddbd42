import { Gauge, type Registry } from 'prom-client';

/** What one look tells: a value for each name, or nothing for a name that has none now. */
export type Look<Name extends string> = Record<Name, number | undefined>;

/**
 * Gauges that are filled by one look each time they are read. When the look fails they are absent,
 * for an old figure would pass for a present one, and the other figures are told all the same.
 * @param helps what each gauge says, by its name
 */
export function gaugesOf<Name extends string>(
  registry: Registry,
  helps: Record<Name, string>,
  look: () => Promise<Look<Name>> | Look<Name>,
): void {
  let looking: Promise<Look<Name> | undefined> | undefined;
  const shared = () => {
    looking ??= Promise.resolve()
      .then(look)
      .catch(() => undefined)
      .finally(() => {
        looking = undefined;
      });
    return looking;
  };
  for (const name of Object.keys(helps) as Name[]) {
    const gauge = new Gauge({
      name,
      help: helps[name],
      registers: [registry],
      collect: async () => {
        const value = (await shared())?.[name];
        if (value === undefined) gauge.remove();
        else gauge.set(value);
      },
    });
  }
}
