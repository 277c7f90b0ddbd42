import type { FastifyInstance } from 'fastify';

/**
 * Notes every route added from now on.
 * @returns a function that tells which methods an address answers, none for an unknown address
 */
export function knowMethods(app: FastifyInstance): (address: string) => string[] {
  const known = new Map<string, { pattern: RegExp; methods: Set<string> }>();
  app.addHook('onRoute', ({ url, method }) => {
    const entry = known.get(url) ?? { pattern: patternOf(url), methods: new Set() };
    for (const each of [method].flat()) entry.methods.add(each);
    known.set(url, entry);
  });
  return (address) => {
    const [path = ''] = address.split('?');
    const here = [...known.values()].filter(({ pattern }) => pattern.test(path));
    return [...new Set(here.flatMap(({ methods }) => [...methods]))].sort();
  };
}

function patternOf(url: string): RegExp {
  const escaped = url.replace(/[.+?^${}()|[\]\\]/g, '\\$&');
  return new RegExp(`^${escaped.replace(/:\w+/g, '[^/]+').replace('*', '.*')}$`);
}
