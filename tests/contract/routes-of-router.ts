import { offlineApp } from './offline-app.ts';

/**
 * Every method and address the router really answers, read from its own printed tree, in the form
 * of the document: `GET /v1/visits/{visitId}`. HEAD goes with GET and is left out.
 */
export async function routesOfRouter(): Promise<string[]> {
  const app = await offlineApp();
  const tree = app.printRoutes({ commonPrefix: false });
  await app.close();
  const found: string[] = [];
  const parents: string[] = [];
  for (const line of tree.split('\n')) {
    const match = /^(?<indent>[│ ]*)[├└]── (?<part>\S*)(?: \((?<methods>[^)]*)\))?$/.exec(line);
    if (match?.groups === undefined) continue;
    const { indent = '', part = '', methods } = match.groups;
    const depth = indent.length / 4;
    parents.length = depth;
    parents.push(part);
    const path = parents.join('').replace(/:(\w+)/g, '{$1}');
    for (const method of methods?.split(', ') ?? []) {
      if (method !== 'HEAD') found.push(`${method} ${path}`);
    }
  }
  return [...new Set(found)].sort();
}
