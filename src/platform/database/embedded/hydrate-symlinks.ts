import { lstat, readFile, symlink } from 'node:fs/promises';
import path from 'node:path';
import { errorCodeOf } from './error-code-of.ts';

/**
 * Makes the library links that Postgres needs. A package cannot carry symbolic links, so it lists
 * them in pg-symlinks.json for an install script, and our installs run no scripts. Links that
 * exist are left alone, so a complete directory may be read-only.
 */
export async function hydrateSymlinks(nativeDir: string): Promise<void> {
  for (const { source, target } of await readLinks(nativeDir)) {
    const link = path.join(path.dirname(nativeDir), target);
    if (!(await exists(link))) {
      await makeLink(path.relative(path.dirname(target), source), link);
    }
  }
}

type Link = { source: string; target: string };

async function readLinks(nativeDir: string): Promise<readonly Link[]> {
  try {
    const text = await readFile(path.join(nativeDir, 'pg-symlinks.json'), 'utf8');
    return JSON.parse(text) as Link[];
  } catch (error) {
    // A build without links has no list.
    if (errorCodeOf(error) === 'ENOENT') return [];
    throw error;
  }
}

async function exists(file: string): Promise<boolean> {
  try {
    await lstat(file);
    return true;
  } catch {
    return false;
  }
}

async function makeLink(source: string, link: string): Promise<void> {
  try {
    await symlink(source, link);
  } catch (error) {
    // Another process that starts at the same moment made the same link.
    if (errorCodeOf(error) !== 'EEXIST') throw error;
  }
}
