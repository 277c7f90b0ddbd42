/** What a column may be given. JSON columns take their text; `undefined` is a forgotten column. */
export type Cell = string | number | boolean | null | Date | Uint8Array | readonly string[];

/**
 * The tables of a company and their columns, in an order in which every row finds the rows it
 * names. Columns that the database fills in itself are not here.
 */
export const columns = {
  company: [
    'id',
    'name',
    'street',
    'city',
    'region',
    'postalCode',
    'phone',
    'email',
    'licenseNumber',
    'regulator',
    'timeZone',
    'defaultJurisdiction',
  ],
  staff: ['id', 'name', 'role', 'phone', 'email', 'epa608Type', 'epa608Number', 'createdAt'],
  tax_rule: [
    'id',
    'jurisdiction',
    'name',
    'rate',
    'taxableClasses',
    'mode',
    'basis',
    'effectiveFrom',
    'effectiveTo',
  ],
  price_book_version: [
    'id',
    'number',
    'effectiveFrom',
    'rates',
    'tiers',
    'policy',
    'periods',
    'publishedAt',
    'publishedById',
  ],
  price_book_task: ['versionId', 'code', 'name', 'minutes', 'accessGroup', 'accessMinutes'],
  price_book_part: [
    'versionId',
    'code',
    'category',
    'name',
    'costCents',
    'supplier',
    'manufacturerWarranted',
    'specs',
  ],
  customer: ['id', 'name', 'phone', 'email', 'language', 'journalSalt', 'createdAt'],
  site: [
    'id',
    'street',
    'unit',
    'city',
    'region',
    'postalCode',
    'jurisdiction',
    'accessNotes',
    'occupantId',
    'approverId',
    'approverLimitCents',
    'payerId',
    'createdAt',
  ],
  comfort_system: ['id', 'siteId', 'name', 'createdAt'],
  equipment: [
    'id',
    'systemId',
    'kind',
    'maker',
    'model',
    'serial',
    'phase',
    'supplyVoltsMin',
    'supplyVoltsMax',
    'compressorRlaAmps',
    'compressorLraAmps',
    'fanFlaAmps',
    'capacitorHermUf',
    'capacitorFanUf',
    'capacitorVolts',
    'capacitorTolerancePercent',
    'contactorPoles',
    'mcaAmps',
    'mocpAmps',
    'refrigerant',
    'meteringDevice',
    'compressorMotor',
    'fanMotor',
    'stages',
    'factoryChargeOz',
    'tons',
    'controlFuseAmps',
    'installedOn',
    'partsWarrantyUntil',
    'laborWarrantyUntil',
    'createdAt',
  ],
  ticket: [
    'id',
    'number',
    'siteId',
    'callerId',
    'complaint',
    'symptoms',
    'state',
    'closingNote',
    'version',
    'createdAt',
    'createdById',
  ],
  visit: [
    'id',
    'ticketId',
    'technicianId',
    'windowStart',
    'windowEnd',
    'state',
    'periodCode',
    'feeCents',
    'feeAgreedBy',
    'feeAgreedAt',
    'priceBookVersionId',
    'arrivedAt',
    'version',
    'createdAt',
  ],
  document: ['sha256', 'kind', 'language', 'renderer', 'mediaType', 'bytes', 'createdAt'],
  visit_photo: ['visitId', 'sha256', 'shows', 'widthPx', 'heightPx', 'recordedAt', 'recordedById'],
  reading: [
    'id',
    'visitId',
    'equipmentId',
    'quantity',
    'point',
    'value',
    'unit',
    'method',
    'instrument',
    'source',
    'phase',
    'photoSha256',
    'takenAt',
    'recordedAt',
    'recordedById',
  ],
  observation: [
    'id',
    'ticketId',
    'visitId',
    'equipmentId',
    'code',
    'answer',
    'source',
    'phase',
    'photoSha256',
    'note',
    'observedAt',
    'recordedAt',
    'recordedById',
  ],
  finding: [
    'id',
    'visitId',
    'equipmentId',
    'faultCode',
    'taskCode',
    'remedyClass',
    'standing',
    'priceable',
    'verdict',
    'evidence',
    'rulesetVersion',
    'foundAt',
    'recordedById',
  ],
  finding_part: ['findingId', 'partCode', 'quantity'],
  finding_override: ['findingId', 'reason', 'grantedById', 'grantedAt'],
  quote: ['id', 'number', 'ticketId', 'visitId', 'parentId', 'createdAt', 'createdById'],
  quote_revision: [
    'id',
    'quoteId',
    'number',
    'language',
    'inputs',
    'rulesetVersion',
    'priceBookVersionId',
    'laborRateCents',
    'declineTotalCents',
    'optionCount',
    'createdAt',
    'createdById',
  ],
  quote_option: ['id', 'revisionId', 'position', 'title', 'lineCount', 'taxCents', 'totalCents'],
  quote_line: [
    'optionId',
    'position',
    'key',
    'kind',
    'priceClass',
    'code',
    'description',
    'findingIds',
    'aimedAt',
    'quantity',
    'unitPriceCents',
    'minutes',
    'amountCents',
    'why',
  ],
  quote_state: ['quoteId', 'revision', 'state', 'changedAt'],
  quote_issue: [
    'quoteId',
    'revision',
    'issuedAt',
    'issuedById',
    'validUntil',
    'contentHash',
    'paper',
  ],
  quote_acceptance: [
    'quoteId',
    'revision',
    'optionId',
    'totalCents',
    'contentHash',
    'acceptedByName',
    'consentText',
    'acceptedAt',
    'recordedById',
  ],
  quote_decline: [
    'quoteId',
    'revision',
    'declinedByName',
    'reason',
    'conditionLeft',
    'dangerWarned',
    'declinedAt',
    'recordedById',
  ],
  journal_entry: [
    'id',
    'at',
    'actorKind',
    'actorId',
    'actorRole',
    'requestId',
    'event',
    'subjectKind',
    'subjectId',
    'changes',
  ],
  journal_seal: ['position', 'entryId', 'hash'],
} as const;

export type TableName = keyof typeof columns;
export const tableNames = Object.keys(columns) as TableName[];

/** A row with every column of its table, no fewer and no more. */
export type Row<T extends TableName> = Record<(typeof columns)[T][number], Cell>;

/** The columns of a table as the database spells them. */
export function sqlColumns(table: TableName): string {
  return columns[table].map((name) => name.replace(/[A-Z]/g, (l) => `_${l.toLowerCase()}`)).join();
}

/** One line of COPY's text format (PostgreSQL manual, COPY, "Text Format"). */
export function copyLine<T extends TableName>(table: T, row: Row<T>): string {
  const names: readonly (typeof columns)[T][number][] = columns[table];
  return `${names.map((name) => copyText(row[name])).join('\t')}\n`;
}

function copyText(cell: Cell): string {
  if (cell === null) return '\\N';
  if (typeof cell === 'string') return escaped(cell);
  if (typeof cell === 'number') return String(cell);
  if (typeof cell === 'boolean') return cell ? 't' : 'f';
  if (cell instanceof Date) return cell.toISOString();
  if (cell instanceof Uint8Array) return `\\\\x${Buffer.from(cell).toString('hex')}`;
  // Only codes and identifiers stand in arrays, which need no quotes.
  return `{${cell.join(',')}}`;
}

function escaped(text: string): string {
  return /[\\\t\n\r]/.test(text)
    ? text.replace(/[\\\t\n\r]/g, (found) => ESCAPES[found] ?? '')
    : text;
}

const ESCAPES: Record<string, string> = { '\\': '\\\\', '\t': '\\t', '\n': '\\n', '\r': '\\r' };
