import { errorCodeOf } from './error-code-of.ts';

/** True when a process with this id exists, whoever it belongs to. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return errorCodeOf(error) === 'EPERM';
  }
}
