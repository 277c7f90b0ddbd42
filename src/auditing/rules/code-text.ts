/** 'dual_run_capacitor' -> 'dual run capacitor'. */
export function codeText(code: string): string {
  return code.replaceAll('_', ' ');
}
