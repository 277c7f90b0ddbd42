/** Warranty days decide what is charged, so whoever changes them is on record. */
const machineFields = [
  'kind',
  'nameplate',
  'maker',
  'model',
  'serial',
  'installedOn',
  'partsWarrantyUntil',
  'compressorWarrantyUntil',
  'laborWarrantyUntil',
] as const;

/** Who the company says it is, which stands on its papers. */
const letterhead = [
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
] as const;

/**
 * Every event the journal knows, as `noun.verb`, with the fields it may carry. `plain` values are
 * kept as they are; `personal` ones only as hashes salted with the person's own salt, so that
 * erasing the person leaves the record whole and says nothing about them any more.
 */
export const journalEvents = {
  'company.set_up': { plain: letterhead, personal: [] },
  'company.changed': { plain: letterhead, personal: [] },
  'staff.added': { plain: ['role'], personal: [] },
  'staff.disabled': { plain: [], personal: [] },
  'staff.enabled': { plain: [], personal: [] },
  // Of tokens, links, passwords and codes nothing stands here, and no e-mail that somebody tried.
  'session.started': { plain: ['staffId', 'carrier', 'secondFactor'], personal: [] },
  'session.ended': { plain: ['cause', 'count'], personal: [] },
  'sign_in.refused': { plain: ['cause'], personal: [] },
  'sign_in_link.made': { plain: ['purpose', 'staffId', 'expiresAt'], personal: [] },
  'password.set': { plain: ['cause'], personal: [] },
  'second_factor.begun': { plain: [], personal: [] },
  'second_factor.turned_on': { plain: [], personal: [] },
  'second_factor.ended': { plain: ['cause'], personal: [] },
  'tax_rule.added': {
    plain: [
      'jurisdiction',
      'name',
      'rate',
      'taxableClasses',
      'mode',
      'separateAboveShare',
      'basis',
      'effectiveFrom',
      'effectiveTo',
    ],
    personal: [],
  },
  'tax_rule.ended': { plain: ['effectiveTo'], personal: [] },
  'consumer_rule.added': {
    plain: ['jurisdiction', 'code', 'effectiveFrom', 'effectiveTo', 'contentSha256'],
    personal: [],
  },
  'consumer_rule.confirmed': { plain: ['standing'], personal: [] },
  'consumer_rule.ended': { plain: ['effectiveTo'], personal: [] },
  'customer.added': { plain: ['language'], personal: ['name', 'phone', 'email'] },
  'customer.changed': { plain: ['language'], personal: ['name', 'phone', 'email'] },
  'customer.erased': { plain: ['erasureId'], personal: [] },
  'site.added': {
    plain: [
      'jurisdiction',
      'altitudeFt',
      'occupantId',
      'approverId',
      'approverLimitCents',
      'payerId',
    ],
    personal: [
      'street',
      'unit',
      'city',
      'region',
      'postalCode',
      'accessNotes',
      'latitudeDeg',
      'longitudeDeg',
    ],
  },
  'site.changed': {
    plain: ['jurisdiction', 'altitudeFt', 'approverId', 'approverLimitCents', 'payerId'],
    personal: [
      'street',
      'unit',
      'city',
      'region',
      'postalCode',
      'accessNotes',
      'latitudeDeg',
      'longitudeDeg',
    ],
  },
  // Who said yes to an agreement stands in its row; the journal knows no person by it.
  'agreement.added': {
    plain: ['siteId', 'planCode', 'discounts', 'startsOn', 'endsOn'],
    personal: [],
  },
  'agreement.ended': { plain: ['endsOn'], personal: [] },
  'system.added': { plain: ['siteId', 'name'], personal: [] },
  'equipment.added': { plain: ['systemId', ...machineFields], personal: [] },
  'equipment.changed': { plain: machineFields, personal: [] },
  'dispatch_policy.changed': {
    plain: ['roadFactor', 'mph', 'parkMinutes', 'usualMinutes', 'windows', 'base'],
    personal: [],
  },
  'technician.changed': { plain: ['skills', 'hasBase'], personal: [] },
  'work_week.added': { plain: ['validFrom', 'hours'], personal: [] },
  // Why somebody is away is theirs; it stands in the row alone.
  'absence.added': { plain: ['technicianId', 'firstDay', 'lastDay', 'hours'], personal: [] },
  'absence.withdrawn': { plain: ['technicianId'], personal: [] },
  'certificate.added': { plain: ['technicianId', 'kind', 'issuedOn', 'expiresOn'], personal: [] },
  'certificate.withdrawn': { plain: ['technicianId'], personal: [] },
  'helper.added': { plain: ['helperId', 'technicianId', 'firstDay', 'lastDay'], personal: [] },
  'helper.ended': { plain: ['helperId', 'technicianId'], personal: [] },
  'maintenance.scheduled': { plain: ['months', 'minutes'], personal: [] },
  'maintenance.opened': { plain: ['agreementId', 'dueMonth'], personal: [] },
  'ticket.opened': {
    plain: ['number', 'siteId', 'callerId', 'symptoms', 'kind', 'state'],
    personal: [],
  },
  'ticket.moved': { plain: ['state'], personal: [] },
  // Why a person ranked it so stands in its row; a reason may tell of people.
  'priority.given': { plain: ['rank'], personal: [] },
  'weather.noted': { plain: ['highDegF', 'relativeHumidityPercent'], personal: [] },
  'phone_check.started': {
    plain: ['ticketId', 'run', 'scriptVersion', 'language', 'known'],
    personal: [],
  },
  // What an answer tells of a person, and notes in their own words, are kept as hashes.
  'phone_check.answered': {
    plain: ['sequence', 'questionCode', 'answer'],
    personal: ['answerOfPerson', 'note'],
  },
  'phone_check.ended': { plain: ['outcome', 'dangerCode'], personal: ['note'] },
  'phone_check.danger_over': { plain: ['dangerCode'], personal: ['note'] },
  'call_back.promised': { plain: ['ticketId', 'dueAt'], personal: [] },
  'call_back.made': { plain: ['outcome', 'tries', 'nextTicketId'], personal: ['note'] },
  'visit.booked': {
    plain: [
      'ticketId',
      'technicianId',
      'purpose',
      'windowStart',
      'windowEnd',
      'plannedStart',
      'plannedEnd',
      'feeCents',
      'sameTripAs',
      'feeAgreement',
      'periodCode',
      'movedFromId',
      'askedBy',
    ],
    personal: [],
  },
  'day_plan.proposed': { plain: ['day', 'contentSha256'], personal: [] },
  'day_plan.used': { plain: [], personal: [] },
  'visit.planned': { plain: ['plannedStart', 'plannedEnd'], personal: [] },
  'visit.joined': { plain: ['sameTripAs', 'feeCents', 'feeAgreement'], personal: [] },
  'visit.moved': { plain: ['state'], personal: [] },
  // What people wrote in their own words, and who was told, stands in the rows alone.
  'part.promised': { plain: ['ticketId', 'visitId', 'partCode', 'promisedOn'], personal: [] },
  'reading.recorded': {
    plain: [
      'visitId',
      'equipmentId',
      'quantity',
      'point',
      'value',
      'unit',
      'shownValue',
      'shownUnit',
      'method',
      'source',
      'phase',
      'photoSha256',
      'takenAt',
    ],
    personal: [],
  },
  'observation.recorded': {
    plain: [
      'ticketId',
      'visitId',
      'equipmentId',
      'code',
      'answer',
      'source',
      'phase',
      'photoSha256',
      'observedAt',
    ],
    personal: [],
  },
  'work.outcome_recorded': {
    plain: ['visitId', 'quoteId', 'outcome', 'laborWarrantyUntil', 'outcomeId'],
    personal: [],
  },
  'part.used': {
    plain: [
      'visitId',
      'quoteId',
      'findingId',
      'partCode',
      'quantity',
      'measured',
      'serial',
      'oldPart',
      'oldSerial',
    ],
    personal: [],
  },
  'part.left_over': {
    plain: ['visitId', 'quoteId', 'findingId', 'partCode', 'quantity', 'measured'],
    personal: [],
  },
  'work.struck': { plain: ['strikeId', 'visitId'], personal: [] },
  'refrigerant.moved': {
    plain: [
      'visitId',
      'equipmentId',
      'refrigerant',
      'direction',
      'cylinder',
      'beforeOz',
      'afterOz',
      'certificateType',
      'movedAt',
    ],
    personal: [],
  },
  'ticket.closed': {
    plain: ['closingId', 'sequence', 'complaintGone', 'didNotCure'],
    personal: [],
  },
  'ticket.called_back': { plain: ['closingId'], personal: [] },
  'photo.added': {
    plain: ['visitId', 'shows', 'mediaType', 'bytes', 'widthPx', 'heightPx'],
    personal: [],
  },
  'finding.added': {
    plain: [
      'visitId',
      'equipmentId',
      'faultCode',
      'taskCode',
      'remedyClass',
      'standing',
      'rulesetVersion',
      'evidenceSha256',
    ],
    personal: [],
  },
  'finding.overridden': { plain: ['reason'], personal: [] },
  'price_book_draft.begun': { plain: ['from', 'contentSha256'], personal: [] },
  'price_book_draft.changed': { plain: ['changed', 'contentSha256'], personal: [] },
  'price_book_draft.dropped': { plain: ['state'], personal: [] },
  'price_book_draft.published': { plain: ['priceBookId', 'overBookNumber'], personal: [] },
  'price_book.published': { plain: ['number', 'effectiveFrom', 'contentSha256'], personal: [] },
  'stock_place.added': { plain: ['name', 'kind', 'technicianId'], personal: [] },
  'stock_place.changed': { plain: ['name', 'technicianId'], personal: [] },
  'stock_target.set': { plain: ['partCode', 'reorderAt', 'orderUpTo'], personal: [] },
  'stock_target.ended': { plain: ['partCode', 'reorderAt', 'orderUpTo'], personal: [] },
  'stock.moved': {
    plain: ['placeId', 'partCode', 'quantity', 'kind', 'visitId', 'otherMoveId', 'reason'],
    personal: [],
  },
  'bill_import.taken_in': { plain: ['origin', 'billCount', 'fileSha256'], personal: [] },
  'supplier_bill.recorded': {
    plain: ['supplier', 'number', 'billedOn', 'placeId', 'lineCount', 'otherCents', 'totalCents'],
    personal: [],
  },
  'quote.drafted': {
    plain: [
      'number',
      'ticketId',
      'visitId',
      'parentId',
      'revision',
      'optionTotalsCents',
      'rulesetVersion',
    ],
    personal: [],
  },
  'quote.revised': { plain: ['revision', 'optionTotalsCents', 'rulesetVersion'], personal: [] },
  'quote.confirmed': { plain: ['revision', 'kind', 'statement'], personal: [] },
  'quote.issued': { plain: ['revision', 'contentHash', 'validUntil'], personal: [] },
  'quote.accepted': { plain: ['revision', 'optionId', 'totalCents', 'contentHash'], personal: [] },
  'acceptance.cancelled': { plain: ['revision', 'totalCents'], personal: [] },
  'quote.declined': { plain: ['revision'], personal: [] },
  'quote.decline_noted': { plain: ['revision'], personal: [] },
  'quote.followed_up': { plain: ['revision', 'step', 'way'], personal: [] },
  'quote.withdrawn': { plain: ['revision'], personal: [] },
  'claim.opened': { plain: ['partUseId', 'partCode'], personal: [] },
  'claim.moved': { plain: ['state', 'amountCents', 'happenedOn'], personal: [] },
  'invoice.opened': { plain: ['ticketId', 'closingId', 'payerId'], personal: [] },
  'invoice.issued': {
    plain: ['number', 'dueOn', 'taxCents', 'totalCents', 'contentHash', 'state'],
    personal: [],
  },
  // Who paid, and the words of a reason, stand in their rows; the journal knows no person by them.
  'payment.recorded': {
    plain: ['invoiceId', 'receiptNumber', 'method', 'amountCents', 'receivedAt', 'state'],
    personal: [],
  },
  'payment.voided': { plain: ['invoiceId', 'amountCents', 'state'], personal: [] },
  'refund.recorded': {
    plain: ['invoiceId', 'method', 'amountCents', 'paidAt', 'state'],
    personal: [],
  },
  'credit_memo.issued': {
    plain: ['invoiceId', 'number', 'kind', 'taxCents', 'totalCents', 'contentHash', 'state'],
    personal: [],
  },
  // Why a flag was dismissed, and the letter of one that was accepted, stand in their rows.
  'audit_flag.accepted': {
    plain: ['ticketId', 'ruleCode', 'memoIds', 'totalCents', 'state'],
    personal: [],
  },
  'audit_flag.dismissed': { plain: ['ticketId', 'ruleCode', 'state'], personal: [] },
  'audit_run.started': { plain: ['rulesetVersion', 'cause', 'total'], personal: [] },
  'audit_run.finished': { plain: ['done'], personal: [] },
  // The token stands nowhere.
  'quote_link.made': {
    plain: ['quoteId', 'holder', 'holderId', 'deliveryId', 'expiresAt'],
    personal: [],
  },
  'quote_link.revoked': { plain: ['quoteId', 'holder'], personal: [] },
  'calendar_feed.made': { plain: ['technicianId'], personal: [] },
  'calendar_feed.revoked': { plain: ['technicianId'], personal: [] },
  'paper.rendered': { plain: ['kind', 'language', 'renderer', 'sha256'], personal: [] },
  'paper_key.registered': { plain: ['publicKey'], personal: [] },
  // What a server said may name people, so only its number stands here. That a paper goes out by
  // itself when it is issued is part of that act.
  'delivery.asked': {
    plain: ['paperId', 'channel', 'recipient', 'customerId', 'language'],
    personal: [],
  },
  'delivery.handed_over': { plain: ['attempts'], personal: [] },
  'delivery.put_off': { plain: ['attempts', 'answerCode', 'nextAt'], personal: [] },
  'delivery.sent': { plain: ['attempts'], personal: [] },
  'delivery.given_up': { plain: ['attempts', 'answerCode', 'mayHaveArrived'], personal: [] },
  'delivery.retried': { plain: ['mayHaveArrived'], personal: [] },
} as const satisfies Record<string, { plain: readonly string[]; personal: readonly string[] }>;

export type JournalEvent = keyof typeof journalEvents;

/** The fields an event may carry, plain and personal. */
export type PlainField<E extends JournalEvent> = (typeof journalEvents)[E]['plain'][number];
export type PersonalField<E extends JournalEvent> = (typeof journalEvents)[E]['personal'][number];
