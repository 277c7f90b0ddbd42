import { spelledAsPrinted } from './known-refrigerant.ts';

/**
 * Whether equipment for comfort was ever built for a refrigerant of this name or is run on it: a
 * slip of the pen such as R-999 is none. From memory of ANSI/ASHRAE Standard 34.
 */
export function isMadeRefrigerant(name: string): boolean {
  return made.has(spelledAsPrinted(name));
}

const made: ReadonlySet<string> = new Set(
  [
    ...['R-11', 'R-12', 'R-13', 'R-22', 'R-23', 'R-32', 'R-113', 'R-114', 'R-115', 'R-116'],
    ...['R-123', 'R-124', 'R-125', 'R-134a', 'R-142b', 'R-143a', 'R-152a', 'R-170', 'R-227ea'],
    ...['R-236fa', 'R-245fa', 'R-290', 'R-600', 'R-600a', 'R-717', 'R-718', 'R-744', 'R-1150'],
    ...['R-1233zd(E)', 'R-1234yf', 'R-1234ze(E)', 'R-1270', 'R-1336mzz(Z)', 'R-500', 'R-502'],
    ...['R-401A', 'R-401B', 'R-402A', 'R-402B', 'R-403B', 'R-404A', 'R-406A', 'R-407A', 'R-407C'],
    ...['R-407F', 'R-407H', 'R-408A', 'R-409A', 'R-410A', 'R-410B', 'R-411A', 'R-411B', 'R-413A'],
    ...['R-414A', 'R-414B', 'R-415B', 'R-416A', 'R-417A', 'R-417C', 'R-418A', 'R-420A', 'R-421A'],
    ...['R-421B', 'R-422A', 'R-422B', 'R-422C', 'R-422D', 'R-424A', 'R-426A', 'R-427A', 'R-428A'],
    ...['R-434A', 'R-437A', 'R-438A', 'R-442A', 'R-443A', 'R-444B', 'R-446A', 'R-447A', 'R-447B'],
    ...['R-448A', 'R-449A', 'R-449B', 'R-449C', 'R-450A', 'R-452A', 'R-452B', 'R-453A', 'R-454A'],
    ...['R-454B', 'R-454C', 'R-455A', 'R-456A', 'R-457A', 'R-458A', 'R-459A', 'R-463A', 'R-466A'],
    ...['R-468A', 'R-470A', 'R-473A', 'R-507A', 'R-508B', 'R-513A', 'R-514A', 'R-515B', 'R-516A'],
  ].map(spelledAsPrinted),
);
