import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import type { WholeFinding } from '../evidence/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type {
  Equipment,
  Prisma,
  QuoteLine,
  QuoteRevision,
} from '../platform/database/generated/client.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { toHead, warrantyClassSchema } from '../pricebook/index.ts';
import { pricingInputsSchema } from '../pricing/index.ts';
import {
  equipmentChecks,
  equipmentStatement,
  type MendedMachine,
  type Repair,
  type RepairOrReplace,
  type Replacement,
  repairOrReplace,
} from '../repair-or-replace/index.ts';
import { equipmentKindSchema, remedyClassSchema } from '../trade/index.ts';
import type { repairOrReplaceSchema } from './contract.ts';
import { CONFIRMED_KIND, isNewMachine, newUnitsOf } from './equipment-rules.ts';
import { findingsOf } from './findings-of.ts';
import { readQuote } from './read-quote.ts';

/** What is known of repairing or replacing for one option: each machine it mends. */
export interface OptionFacts {
  optionId: string;
  position: number;
  title: string;
  /** With a new machine nothing is mended, and so nothing is weighed. */
  installsEquipment: boolean;
  machines: (RepairOrReplace & { equipmentId: string })[];
}

/**
 * The facts on repairing or replacing of a quote as whoever asks may see it. They are of the day it
 * was issued, so that they say what its paper says; of today while it is a draft.
 * @throws ProblemError 404 for a quote or revision that is not there, or not theirs
 */
export async function repairOrReplaceOf(
  context: Pick<ReadContext, 'prisma' | 'actor' | 'now'>,
  quoteId: string,
  number?: number,
): Promise<z.input<typeof repairOrReplaceSchema>> {
  const { prisma } = context;
  const { body } = await readQuote(prisma, context, quoteId, number);
  const revision = await prisma.quoteRevision.findUniqueOrThrow({
    where: { quoteId_number: { quoteId, number: body.revision } },
  });
  const { timeZone } = await companyOf(prisma);
  const asOf = body.issuedAt === null ? context.now : new Date(body.issuedAt);
  const today = localDay(asOf, timeZone);
  return {
    quoteId,
    revision: body.revision,
    asOf: today,
    options: await repairOrReplaceOptions(prisma, revision, today),
    newEquipment: await newEquipmentOf(prisma, revision),
  };
}

type Reader = Pick<
  Tx,
  'finding' | 'equipment' | 'priceBookVersion' | 'priceBookPart' | 'quoteOption'
>;

/** The facts of every option of a stored revision, as they stand on a local day. */
export async function repairOrReplaceOptions(
  prisma: Reader,
  revision: QuoteRevision,
  today: string,
): Promise<OptionFacts[]> {
  const { options: inputs } = pricingInputsSchema.parse(revision.inputs);
  const known = await loadKnown(prisma, revision);
  const stored = await prisma.quoteOption.findMany({
    where: { revisionId: revision.id },
    orderBy: { position: 'asc' },
    include: { lines: true },
  });
  return stored.map((option, at) => {
    const work = inputs[at]?.work ?? [];
    const ids = work.flatMap(({ findingId, alsoFindingIds = [] }) => [
      findingId,
      ...alsoFindingIds,
    ]);
    const findings = ids.flatMap((id) => known.findings.get(id) ?? []);
    const isNew = findings.some(isNewMachine);
    return {
      optionId: option.id,
      position: option.position,
      title: option.title,
      installsEquipment: isNew,
      machines: isNew ? [] : machinesOf(option, findings, known, today),
    };
  });
}

interface Known {
  findings: Map<string, WholeFinding>;
  equipment: Map<string, Equipment>;
  warrantyClasses: Map<string, string>;
  replacements: readonly Replacement[];
}

async function loadKnown(prisma: Reader, revision: QuoteRevision): Promise<Known> {
  const versionId = revision.priceBookVersionId;
  const findings = await findingsOf(prisma, pricingInputsSchema.parse(revision.inputs));
  const codes = findings.flatMap(({ parts }) => parts.map(({ partCode }) => partCode));
  const book = await prisma.priceBookVersion.findUniqueOrThrow({ where: { id: versionId } });
  const parts = await prisma.priceBookPart.findMany({
    where: { versionId, code: { in: codes } },
    select: { code: true, warrantyClass: true },
  });
  const equipment = await prisma.equipment.findMany({
    where: { id: { in: findings.map(({ equipmentId }) => equipmentId) } },
  });
  return {
    findings: new Map(findings.map((finding) => [finding.id, finding])),
    equipment: new Map(equipment.map((machine) => [machine.id, machine])),
    warrantyClasses: new Map(parts.map(({ code, warrantyClass }) => [code, warrantyClass])),
    replacements: toHead(book).replacements,
  };
}

type StoredOption = Prisma.QuoteOptionGetPayload<{ include: { lines: true } }>;

function machinesOf(
  option: StoredOption,
  findings: readonly WholeFinding[],
  known: Known,
  today: string,
): OptionFacts['machines'] {
  const ids = [...new Set(findings.map(({ equipmentId }) => equipmentId))];
  return ids.flatMap((equipmentId) => {
    const machine = known.equipment.get(equipmentId);
    if (machine === undefined) return [];
    const own = findings.filter((finding) => finding.equipmentId === equipmentId);
    const repairCents = centsOf(option.lines, new Set(own.map(({ id }) => id)));
    const repair = { repairCents, work: own.map((finding) => workOf(finding, known)) };
    const facts = repairOrReplace(mendedMachine(machine, today), repair, known.replacements);
    return [{ equipmentId, ...facts }];
  });
}

/**
 * What an option charges for some of its findings: their own lines and what is taken off them. The
 * fee is for the visit and tax is nobody's repair, so neither is held against a machine, however
 * many an option mends.
 */
function centsOf(lines: readonly QuoteLine[], findingIds: ReadonlySet<string>): number {
  const own = lines.filter((line) => line.findingIds.some((id) => findingIds.has(id)));
  const keys = new Set(own.map(({ key }) => key));
  const aimed = lines.filter(
    (line) => line.aimedAt !== null && keys.has(line.aimedAt) && !own.includes(line),
  );
  return [...own, ...aimed].reduce((sum, { amountCents }) => sum + amountCents, 0);
}

function workOf(finding: WholeFinding, { warrantyClasses }: Known): Repair['work'][number] {
  return {
    remedyClass: remedyClassSchema.parse(finding.remedyClass),
    parts: finding.parts.map(({ partCode }) => ({
      name: partCode,
      warrantyClass: warrantyClassSchema.parse(warrantyClasses.get(partCode)),
    })),
  };
}

function mendedMachine(machine: Equipment, today: string): MendedMachine {
  const day = (at: Date | null) => at?.toISOString().slice(0, 10);
  const { installedOn, partsWarrantyUntil, compressorWarrantyUntil, laborWarrantyUntil } = machine;
  return withoutGaps({
    today,
    kind: equipmentKindSchema.parse(machine.kind),
    tons: machine.tons ?? undefined,
    refrigerant: machine.refrigerant ?? undefined,
    installedOn: day(installedOn),
    partsWarrantyUntil: day(partsWarrantyUntil),
    compressorWarrantyUntil: day(compressorWarrantyUntil),
    laborWarrantyUntil: day(laborWarrantyUntil),
  });
}

type WithGaps = { [Field in keyof MendedMachine]: MendedMachine[Field] | undefined };

/** What is not recorded is absent. */
function withoutGaps(machine: WithGaps & Pick<MendedMachine, 'today' | 'kind'>): MendedMachine {
  const { today, kind, ...rest } = machine;
  const known = Object.entries(rest).filter(([, value]) => value !== undefined);
  return { today, kind, ...Object.fromEntries(known) };
}

async function newEquipmentOf(
  prisma: Pick<Tx, 'priceBookPart' | 'quoteConfirmation'>,
  revision: QuoteRevision,
): Promise<z.input<typeof repairOrReplaceSchema>['newEquipment']> {
  const units = await newUnitsOf(prisma, revision);
  if (units.length === 0) return null;
  const confirmed = await prisma.quoteConfirmation.findUnique({
    where: {
      quoteId_revision_kind: {
        quoteId: revision.quoteId,
        revision: revision.number,
        kind: CONFIRMED_KIND,
      },
    },
  });
  return {
    checks: equipmentChecks(units).map((check) => ({ ...check, days: [...check.days] })),
    statement: equipmentStatement(units),
    confirmation: confirmed && {
      revision: confirmed.revision,
      kind: CONFIRMED_KIND,
      statement: confirmed.statement,
      confirmedAt: confirmed.confirmedAt.toISOString(),
      confirmedById: confirmed.confirmedById,
    },
  };
}
