/** The system's code of a Node error ('ENOENT', 'EACCES', ...), or '' when it has none. */
export function errorCodeOf(error: unknown): string {
  const hasCode = typeof error === 'object' && error !== null && 'code' in error;
  return hasCode && typeof error.code === 'string' ? error.code : '';
}
