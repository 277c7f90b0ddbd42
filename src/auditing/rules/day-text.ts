const months = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');

/** '2026-01-12' -> 'Jan 12, 2026'. */
export function dayText(day: string): string {
  const [year = '', month = '', date = ''] = day.split('-');
  return `${months[Number(month) - 1] ?? month} ${Number(date)}, ${year}`;
}
