import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import type { PriceBookPart } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { bookInForce } from '../pricebook/index.ts';
import { goodsUnitSchema, measuredText } from '../pricing/index.ts';
import {
  currentEvidenceRuleset,
  type EquipmentKind,
  type Evidence,
  evidenceRulesets,
  findFault,
  handlesRefrigerant,
  type Nameplate,
  partFits,
  partSchema,
  type Remedy,
  remedyFor,
  type Verdict,
  weightRefusal,
} from '../trade/index.ts';
import type { newFindingSchema } from './contract.ts';
import { gatherEvidence } from './gather-evidence.ts';
import { isCarried } from './is-carried.ts';
import { requireCertificate } from './require-certificate.ts';
import { noSuchEquipment, requireOnSite } from './require-on-site.ts';

type NewFinding = z.output<typeof newFindingSchema>;

/**
 * Names a fault with its remedy and freezes the verdict of the evidence recorded so far. The class
 * of the remedy comes from the catalog; a finding the evidence does not carry is kept, but carries
 * no price until the owner gives a reason.
 * @returns the new finding's identifier
 * @throws ProblemError 422 when the fault cannot be on this equipment, the task does not mend that
 *   fault, or a part does not fit; 403 when the task handles refrigerant and nobody with the
 *   certificate for it finds it
 */
export async function addFinding(
  act: ActContext,
  visitId: string,
  input: NewFinding,
): Promise<string> {
  const remedy = requireRemedy(input);
  await requireOnSite(act, visitId);
  if (handlesRefrigerant(input.taskCode)) await requireCertificate(act);
  const evidence = await evidenceOn(act, visitId, input.equipmentId);
  const verdict = evidenceRulesets[currentEvidenceRuleset].weigh(input.faultCode, evidence);
  // Before the parts: on the wrong machine no choice of them can be right.
  refuseMisplaced(verdict);
  refuseElsewhere(input.faultCode, remedy, evidence.equipment.kind);
  await requireFittingParts(act, evidence.equipment.nameplate, remedy, input);
  return store(act, visitId, input, remedy, evidence, verdict);
}

async function evidenceOn(
  act: ActContext,
  visitId: string,
  equipmentId: string,
): Promise<Evidence> {
  const evidence = (await gatherEvidence(act.tx, visitId, [equipmentId])).get(equipmentId);
  if (evidence === undefined) throw noSuchEquipment('/equipmentId');
  return evidence;
}

function refuseMisplaced({ standing, reason }: Verdict): void {
  if (standing !== 'not_applicable') return;
  throw new ProblemError('does-not-fit', `${reason.charAt(0).toUpperCase()}${reason.slice(1)}.`, {
    what: 'fault',
    reason,
  });
}

/** Some work is done on fewer machines than its fault is found on. */
function refuseElsewhere(faultCode: string, { kinds }: Remedy, kind: EquipmentKind): void {
  if (kinds === undefined || kinds.includes(kind)) return;
  const others = findFault(faultCode)?.remedies.filter(
    (each) => each.kinds?.includes(kind) ?? true,
  );
  throw new ProblemError(
    'does-not-fit',
    `That task is not done on a ${kind.replaceAll('_', ' ')}.`,
    { what: 'task', allowedTasks: others?.map(({ task }) => task) ?? [] },
  );
}

function requireRemedy({ faultCode, taskCode }: NewFinding): Remedy {
  const remedy = remedyFor(faultCode, taskCode);
  if (remedy !== undefined) return remedy;
  throw new ProblemError('does-not-fit', 'That task does not mend that fault.', {
    what: 'task',
    allowedTasks: findFault(faultCode)?.remedies.map(({ task }) => task) ?? [],
  });
}

async function requireFittingParts(
  act: ActContext,
  nameplate: Nameplate,
  remedy: Remedy,
  { taskCode, parts }: NewFinding,
): Promise<void> {
  if (parts.length === 0 && remedy.partCategories.length > 0) {
    throw new ProblemError('does-not-fit', 'This task needs its part named.', {
      what: 'part',
      partCategories: remedy.partCategories,
    });
  }
  const book = await bookInForce(act.tx, act.now);
  const categories: string[] = [];
  for (const [index, use] of parts.entries()) {
    const { partCode } = use;
    const row = await act.tx.priceBookPart.findUnique({
      where: { versionId_code: { versionId: book.id, code: partCode } },
    });
    if (row === null) {
      throw unknownReference(`/parts/${index}/partCode`, 'The price book has no such part.');
    }
    refuseSoldOtherwise(row, use, `/parts/${index}`);
    refuseTooHeavy(row, use, nameplate, `/parts/${index}`);
    const fit = partFits(
      nameplate,
      taskCode,
      partSchema.parse({ category: row.category, specs: row.specs }),
    );
    if (!fit.fits) {
      throw new ProblemError('does-not-fit', fit.refusals.join(' '), {
        what: 'part',
        partCode,
        refusals: fit.refusals,
      });
    }
    categories.push(...Array<string>(use.quantity ?? 1).fill(row.category));
  }
  // A task takes one part of a kind; five capacitors on one bill would be four too many.
  if (new Set(categories).size !== categories.length) {
    throw new ProblemError('does-not-fit', 'This task takes one part of each kind.', {
      what: 'part',
    });
  }
}

/** Five capacitors or five pounds of one: only the price book knows which of them there is. */
function refuseSoldOtherwise(
  { name, unit }: PriceBookPart,
  { measured }: NewFinding['parts'][number],
  pointer: string,
): void {
  if ((unit === null) === (measured === undefined)) return;
  if (unit === null) {
    throw wrongField(
      `${pointer}/measured`,
      'sold_in_pieces',
      `${name} is sold in pieces: give its quantity`,
    );
  }
  throw wrongField(
    `${pointer}/quantity`,
    'sold_by_measure',
    `${name} is sold by measure: give measured "2.5" for ${measuredText('2.5', goodsUnitSchema.parse(unit))}`,
  );
}

/** What is typed is charged: 25 pounds for 2.5 would be ten times the price. */
function refuseTooHeavy(
  { category, unit }: PriceBookPart,
  { measured }: NewFinding['parts'][number],
  nameplate: Nameplate,
  pointer: string,
): void {
  const isWeight = unit === '[lb_av]' || unit === '[oz_av]';
  if (category !== 'refrigerant' || measured === undefined || !isWeight) return;
  const refusal = weightRefusal(nameplate, { weight: Number(measured), unit });
  if (refusal !== undefined) throw wrongField(`${pointer}/measured`, 'beyond_reason', refusal);
}

async function store(
  act: ActContext,
  visitId: string,
  input: NewFinding,
  remedy: Remedy,
  evidence: Evidence,
  verdict: Verdict,
): Promise<string> {
  const finding = {
    visitId,
    equipmentId: input.equipmentId,
    faultCode: input.faultCode,
    taskCode: input.taskCode,
    remedyClass: remedy.remedyClass,
    standing: verdict.standing,
    rulesetVersion: currentEvidenceRuleset,
  };
  const id = act.newId();
  await act.tx.finding.create({
    data: {
      ...finding,
      id,
      priceable: isCarried(input.faultCode, remedy, evidence, verdict),
      verdict,
      evidence,
      foundAt: act.now,
      recordedById: act.actor.id,
      parts: {
        create: input.parts.map(({ partCode, quantity = null, measured = null }) => ({
          partCode,
          quantity,
          measured,
        })),
      },
    },
  });
  await appendJournal(act, {
    event: 'finding.added',
    subject: { kind: 'finding', id },
    after: { ...finding, evidenceSha256: sha256(canonicalJson(evidence)) },
  });
  return id;
}
