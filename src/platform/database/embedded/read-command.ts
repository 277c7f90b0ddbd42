import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { promisify } from 'node:util';

/** The command line of a running process, or undefined when there is none to see. */
export async function readCommand(pid: number): Promise<readonly string[] | undefined> {
  const words = process.platform === 'linux' ? await fromProc(pid) : await fromPs(pid);
  return words.length === 0 ? undefined : words;
}

async function fromProc(pid: number): Promise<readonly string[]> {
  try {
    const line = await readFile(`/proc/${pid}/cmdline`, 'utf8');
    return line.split('\0').filter((word) => word !== '');
  } catch {
    return [];
  }
}

/** Small Linux images lack ps, and macOS lacks /proc. ps joins the words, so a path with a blank
 * comes back in pieces; the caller compares the joined line. */
async function fromPs(pid: number): Promise<readonly string[]> {
  try {
    const { stdout } = await promisify(execFile)('ps', ['-ww', '-o', 'command=', '-p', `${pid}`]);
    return stdout.trim().split(' ');
  } catch {
    return [];
  }
}
