import { writeFile } from 'node:fs/promises';
import { buildOpenapi } from './build-openapi.ts';

// Run this after a wanted change of the interface, and read the difference before committing it.
const file = new URL('./openapi.json', import.meta.url);
await writeFile(file, `${JSON.stringify(await buildOpenapi(), null, 2)}\n`);
