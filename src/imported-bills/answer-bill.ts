import type { z } from 'zod';
import { auditRulesetVersions } from '../auditing/index.ts';
import { dayText } from '../platform/calendar-day.ts';
import type { BillImport, ImportedBill } from '../platform/database/generated/client.ts';
import type { BillJudge } from './bill-judge.ts';
import {
  billContentSchema,
  type billImportSchema,
  type importedBillSchema,
  keptJudgementSchema,
  originSchema,
} from './contract.ts';
import { statementOf } from './statement-of.ts';

/** A bill with its judgement, each rule with what it asks for. */
export function billBody(row: ImportedBill): z.input<typeof importedBillSchema> {
  const { flags, cannotJudge, fair, notPriced } = keptJudgementSchema.parse(row.judgement);
  return {
    id: row.id,
    importId: row.importId,
    line: row.row,
    billedOn: dayText(row.billedOn),
    ...billContentSchema.parse(row.content),
    chargedCents: row.chargedCents,
    judgement: {
      overCents: row.overCents,
      flags: flags.map((flag) => ({ ...flag, statement: statementOf(flag.ruleCode) })),
      cannotJudge: cannotJudge.map((rule) => ({
        ...rule,
        statement: statementOf(rule.ruleCode),
      })),
      fair,
      notPriced,
      judgedBy: judgedBy({
        rulesetVersion: row.rulesetVersion,
        priceBookId: row.priceBookVersionId,
      }),
    },
  };
}

/** By which rules and which price book, as it is answered. */
export function judgedBy({
  rulesetVersion,
  priceBookId,
}: Pick<BillJudge, 'rulesetVersion' | 'priceBookId'>) {
  const version = auditRulesetVersions.find((each) => each === rulesetVersion);
  if (version === undefined) throw new Error(`no ruleset has the version ${rulesetVersion}`);
  return { rulesetVersion: version, priceBookId };
}

/** An import without its bills. */
export function importBody(row: BillImport): z.input<typeof billImportSchema> {
  const { id, fileName, origin, rowCount, importedAt, importedById } = row;
  return {
    id,
    fileName,
    origin: originSchema.parse(origin),
    billCount: rowCount,
    importedAt: importedAt.toISOString(),
    importedById,
  };
}
