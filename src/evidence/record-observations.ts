import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { Equipment, Observation, Visit } from '../platform/database/generated/client.ts';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { observationWords } from '../trade/index.ts';
import type { newObservationSchema } from './contract.ts';
import { toObservation } from './gather-evidence.ts';
import { momentAtVisit } from './moment-at-visit.ts';
import { refuseExcluded } from './refuse-excluded.ts';
import { refuseMisplaced } from './refuse-misplaced.ts';
import { refuseTooMany } from './refuse-too-many.ts';
import {
  equipmentAt,
  requireEquipment,
  requireOnSite,
  requireOnSiteOrJustLeft,
} from './require-on-site.ts';
import { requirePhoto } from './require-photo.ts';

type NewObservation = z.output<typeof newObservationSchema>;
type Timed = Omit<NewObservation, 'observedAt'> & { observedAt: Date };

/**
 * Records what was seen, heard or tried on site: all of it or nothing.
 * @throws ProblemError 422 for equipment that is not at this site or cannot have it, or a photo that
 *   is not of this visit; 400 for two things that exclude each other; 409 unless on site
 */
export async function recordObservations(
  act: ActContext,
  visitId: string,
  observations: NewObservation[],
): Promise<Observation[]> {
  const isHowLeft = observations.every(({ phase }) => phase === 'left');
  const visit = await (isHowLeft ? requireOnSiteOrJustLeft : requireOnSite)(act, visitId);
  const kept = await act.tx.observation.count({ where: { visitId } });
  refuseTooMany(visit, 'observations', { kept, added: observations.length });
  const machines = await equipmentAt(act, visit);
  const timed: Timed[] = [];
  for (const [index, observation] of observations.entries()) {
    requireMachine(machines, observation, `/observations/${index}/equipmentId`);
    refuseMisplaced([...machines.values()], observation, `/observations/${index}`);
    const { photoSha256 } = observation;
    await requirePhoto(act, visit.id, photoSha256, `/observations/${index}/photoSha256`);
    const observedAt = momentAtVisit(
      act,
      visit,
      observation.observedAt,
      `/observations/${index}/observedAt`,
    );
    timed.push({ ...observation, observedAt });
  }
  await refuseOpposites(act, visit.id, timed);
  const recorded: Observation[] = [];
  for (const observation of timed) recorded.push(await record(act, visit, observation));
  return recorded;
}

async function refuseOpposites(
  act: ActContext,
  visitId: string,
  timed: readonly Timed[],
): Promise<void> {
  const rows = await act.tx.observation.findMany({
    where: { visitId, phase: 'found' },
    orderBy: [{ recordedAt: 'asc' }, { id: 'asc' }],
  });
  const now = timed.map(({ equipmentId, code, answer, phase, observedAt }, index) => ({
    ...{ equipmentId, code, answer, phase, source: 'observed' as const },
    at: observedAt.toISOString(),
    pointer: `/observations/${index}/answer`,
  }));
  refuseExcluded([...rows.map(toObservation), ...now]);
}

/** Most things are seen on one machine; unsaid, it would count for none. */
function requireMachine(
  machines: Map<string, Equipment>,
  { code, equipmentId }: NewObservation,
  pointer: string,
): void {
  if (equipmentId !== undefined) requireEquipment(machines, equipmentId, pointer);
  else if (observationWords[code].about !== 'house') {
    throw wrongField(pointer, 'machine_not_said', 'Say on which machine this was seen.');
  }
}

async function record(act: ActContext, visit: Visit, input: Timed): Promise<Observation> {
  const { observedAt } = input;
  const facts = {
    ticketId: visit.ticketId,
    visitId: visit.id,
    equipmentId: input.equipmentId ?? null,
    code: input.code,
    answer: input.answer,
    source: 'observed',
    phase: input.phase,
    photoSha256: input.photoSha256 ?? null,
    observedAt,
  };
  const observation = await act.tx.observation.create({
    data: {
      ...facts,
      id: act.newId(),
      note: input.note ?? null,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'observation.recorded',
    subject: { kind: 'observation', id: observation.id },
    after: facts,
  });
  return observation;
}
