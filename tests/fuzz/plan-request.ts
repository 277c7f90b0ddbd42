import fc from 'fast-check';
import type { StaffKey } from '../../seed/company.ts';
import { access } from '../contract/access.ts';
import type { Mood } from './request-of.ts';

/** Somebody of the staff, nobody, or somebody with a token that was never given out. */
export type Who = StaffKey | 'nobody' | 'forged';

/** How one request is meant. */
export interface Plan {
  mood: Mood;
  who: Who;
  /** Whether it is also looked for what it left behind, and is sent a second time. */
  isCheckedTwice: boolean;
}

/** Every fourth request of an operation is meant to succeed; the others are whatever comes. */
export function planRequest(operationId: string, round: number): fc.Arbitrary<Plan> {
  const isSure = round % SURE_EVERY === 0;
  return fc.record({
    mood: isSure ? fc.constant<Mood>('good') : mood,
    who: isSure ? fc.constant<Who>(askers[operationId] ?? 'owner') : whoAsks(operationId),
    isCheckedTwice: fc.nat(4).map((each) => each === 0),
  });
}

/** Whether somebody may do it at all, by the list that is kept apart from the source. */
export function may(operationId: string, who: Who): boolean {
  const role = who === 'second_technician' ? 'technician' : who;
  const allowed = access[operationId];
  return allowed === 'everybody' || (allowed?.some((each) => each === role) ?? false);
}

/** Who is sure to be let in, where it is not the owner: only who is certified touches refrigerant. */
const askers: Readonly<Record<string, StaffKey>> = { moveRefrigerant: 'technician' };

const SURE_EVERY = 4;

const mood = fc.oneof(
  { weight: 2, arbitrary: fc.constant<Mood>('good') },
  { weight: 2, arbitrary: fc.constant<Mood>('drawn') },
  { weight: 10, arbitrary: fc.constant<Mood>('near') },
  { weight: 4, arbitrary: fc.constant<Mood>('spoilt') },
);

/** Mostly somebody who may, sometimes somebody who may not. */
function whoAsks(operationId: string): fc.Arbitrary<Who> {
  const roles: StaffKey[] = ['owner', 'dispatcher', 'technician'];
  const allowed = roles.filter((who) => may(operationId, who));
  const others = roles.filter((who) => !may(operationId, who));
  return fc.oneof(
    { weight: 6, arbitrary: fc.constant<Who>('owner') },
    { weight: 4, arbitrary: fc.constantFrom<Who>(...allowed) },
    {
      weight: 2,
      arbitrary: fc.constantFrom<Who>('nobody', 'forged', 'second_technician', ...others),
    },
  );
}
