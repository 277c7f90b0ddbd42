import type { FactCode } from '../phone-script/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { knownRefrigerant, refrigerants } from '../trade/index.ts';
import { wasResetAt } from './was-reset-at.ts';

/** What the records say of a ticket before anybody is asked. */
export async function knownAt(
  act: Pick<ActContext, 'tx' | 'now'>,
  { symptoms, siteId }: Ticket,
): Promise<FactCode[]> {
  const isHeatingOnly = symptoms.length > 0 && symptoms.every((each) => ofHeating.includes(each));
  const known: [FactCode, boolean][] = [
    ['heating_only', isHeatingOnly],
    ['breaker_trips', symptoms.includes('breaker_trips')],
    ['reset_before', await wasResetAt({ prisma: act.tx, now: act.now }, siteId)],
    ['refrigerant_may_burn', await mayBurn(act, siteId)],
  ];
  return known.filter(([, holds]) => holds).map(([code]) => code);
}

const ofHeating = ['no_heating', 'weak_heating'];

const withRefrigerant = ['condensing_unit', 'heat_pump', 'package_unit', 'mini_split'];

/** Unless every machine that holds refrigerant names one that does not spread flame. */
async function mayBurn({ tx }: Pick<ActContext, 'tx'>, siteId: string): Promise<boolean> {
  const machines = await tx.equipment.findMany({
    where: { system: { siteId }, kind: { in: withRefrigerant } },
    select: { refrigerant: true },
  });
  return machines.length === 0 || !machines.every(({ refrigerant }) => isSurelyA1(refrigerant));
}

function isSurelyA1(named: string | null): boolean {
  const code = named === null ? undefined : knownRefrigerant(named);
  return code !== undefined && refrigerants[code].safetyGroup === 'A1';
}
