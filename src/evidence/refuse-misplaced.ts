import { ProblemError } from '../platform/http/problem.ts';
import {
  equipmentKindSchema,
  mayBeReadOn,
  mayBeSeenOn,
  type ObservationCode,
  observationWords,
  type PointCode,
  pointWords,
} from '../trade/index.ts';

/** A reading or an observation, and the machine it is noted on. */
type Noted = { equipmentId?: string | undefined } & (
  | { point: PointCode; code?: never }
  | { code: ObservationCode; point?: never }
);

/**
 * Refuses what is noted on a machine that cannot have it: there it would count for nothing.
 * @throws ProblemError 422 naming the machines that can
 */
export function refuseMisplaced(
  machines: readonly { id: string; kind: string }[],
  noted: Noted,
  pointer: string,
): void {
  const known = machines.map(({ id, kind }) => ({ id, kind: equipmentKindSchema.parse(kind) }));
  const machine = known.find(({ id }) => id === noted.equipmentId);
  if (machine === undefined) return;
  const fitting = known.filter(({ kind }) =>
    noted.point === undefined ? mayBeSeenOn(noted.code, kind) : mayBeReadOn(noted.point, kind),
  );
  if (fitting.includes(machine)) return;
  const what =
    noted.point === undefined
      ? observationWords[noted.code].statement
      : pointWords[noted.point].name;
  const kinds = [...new Set(fitting.map(({ kind }) => inWords(kind)))];
  const where =
    kinds.length === 0 ? 'No machine here can have it.' : `Note it on: ${kinds.join(', ')}.`;
  const message = `This is not found on this kind of machine (${inWords(machine.kind)}): ${what}. ${where}`;
  throw new ProblemError('unknown-reference', message, {
    errors: [
      { in: 'body', pointer: `${pointer}/equipmentId`, code: 'not_on_this_machine', message },
    ],
    machines: fitting,
  });
}

function inWords(kind: string): string {
  return kind.replaceAll('_', ' ');
}
