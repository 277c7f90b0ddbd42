/** One kind of problem: everything a client may rely on. Status codes live nowhere else. */
export interface ProblemKind {
  status: number;
  title: string;
  /** What happened, for the page behind the problem's `type`. */
  explanation: string;
  /** What the reader can do about it. */
  remedy: string;
}

/**
 * Every problem this API answers with (RFC 9457), by slug. The slug ends the `type` URL, which
 * resolves to a page made from this table.
 */
export const problemCatalog = {
  'validation-failed': {
    status: 400,
    title: 'The request has mistakes',
    explanation: 'One or more fields are missing, unknown or not of the expected form.',
    remedy: 'Correct the fields listed in `errors`; each names its place by a JSON Pointer.',
  },
  'malformed-request': {
    status: 400,
    title: 'The request cannot be read',
    explanation: 'The body is not valid JSON, or the request is not valid HTTP.',
    remedy: 'Send well-formed JSON with the content type application/json.',
  },
  'file-has-mistakes': {
    status: 400,
    title: 'The file has mistakes',
    explanation: 'Some rows or cells of the file are not as expected, so none of it was taken.',
    remedy:
      'Correct what `mistakes` lists, each by line and column, and send the whole file again. ' +
      '`more` counts mistakes beyond those listed.',
  },
  'idempotency-key-missing': {
    status: 400,
    title: 'An Idempotency-Key is needed',
    explanation:
      'This request creates or does something, so repeating it by accident must be safe.',
    remedy: 'Send an Idempotency-Key header with a value you use for this one act only.',
  },
  'cursor-invalid': {
    status: 400,
    title: 'The page cursor does not fit',
    explanation: 'The cursor was not made by this API, or it was made for another filter.',
    remedy: 'Start again without a cursor and follow `nextCursor`.',
  },
  unauthenticated: {
    status: 401,
    title: 'Sign in first',
    explanation:
      'The request shows neither a bearer token nor the cookie of a session, or what it shows is ' +
      'unknown, over or revoked. Or e-mail and password do not belong together, or the code of the ' +
      'second factor is missing or wrong.',
    remedy:
      'Sign in, and send the token in the Authorization header or the cookie. Where `codeNeeded` is ' +
      'true, send e-mail and password again with a code.',
  },
  forbidden: {
    status: 403,
    title: 'Not for your role',
    explanation: 'Your role may not do this.',
    remedy: 'Ask somebody whose role may; `allowedRoles` lists them.',
  },
  'certificate-missing': {
    status: 403,
    title: 'This needs a certificate',
    explanation:
      'The law lets only people with a fitting Section 608 certificate attach gauges or handle ' +
      'refrigerant, and none that fits is on record for you.',
    remedy:
      'Let a certified colleague do it and record it, or have your certificate put on record. ' +
      '`certificatesAccepted` lists those that fit.',
  },
  'not-found': {
    status: 404,
    title: 'Not found',
    explanation: 'There is nothing here, or it is not yours to see.',
    remedy: 'Check the address and the identifier.',
  },
  'method-not-allowed': {
    status: 405,
    title: 'Not this way',
    explanation: 'The address exists, but not with this method.',
    remedy: 'Use one of the methods in the Allow header.',
  },
  'not-allowed-now': {
    status: 409,
    title: 'Not possible in this state',
    explanation: 'The thing is in a state from which this step is not allowed.',
    remedy: '`currentState` says where it is and `allowedActions` what may be done from there.',
  },
  'request-in-progress': {
    status: 409,
    title: 'Still working on it',
    explanation: 'A request with the same Idempotency-Key is running right now.',
    remedy: 'Wait a moment and repeat the request unchanged.',
  },
  'work-not-recorded': {
    status: 409,
    title: 'Something is not on record yet',
    explanation:
      'A ticket is closed when it says of all accepted work whether it was done, with which ' +
      'parts and refrigerant, and how the system was left.',
    remedy: 'Record what `missing` lists, then close it.',
  },
  'window-taken': {
    status: 409,
    title: 'The technician is booked then',
    explanation: 'The planned work overlaps that of another live visit of the same technician.',
    remedy: 'Choose one of `nearestFree`, another window or another technician.',
  },
  'visit-fee-differs': {
    status: 409,
    title: 'The visit fee is another one',
    explanation:
      'The fee told to the caller is not the fee for that arrival window, or not what the ' +
      'agreement of the site leaves of it; or the visit `sameTripAs` has the fee of the trip.',
    remedy: 'Tell the caller `feeCents` and `feeAfterDiscountCents`, get a yes, and book again.',
  },
  'no-price-book': {
    status: 409,
    title: 'No price book in force',
    explanation: 'Nothing can be priced or booked before the owner has published a price book.',
    remedy: 'Publish a price book whose effective date has come.',
  },
  'no-tax-rule': {
    status: 409,
    title: 'No tax rule for this place',
    explanation: 'There is no tax rule in force for the jurisdiction of the site.',
    remedy: 'Add the tax rule of the jurisdiction.',
  },
  'quote-expired': {
    status: 409,
    title: 'The quote has expired',
    explanation: 'The quote was valid until `validUntil`, which has passed.',
    remedy: 'Make a new revision and issue it.',
  },
  'price-outdated': {
    status: 409,
    title: 'The price is not today’s',
    explanation:
      'Something the price depends on has changed since it was computed: the price book in force, ' +
      'the tax rule, the maintenance agreement of the site, a warranty, or other work that was ' +
      'accepted at the same visit.',
    remedy: 'Make a new revision, which is priced anew, and issue that.',
  },
  'owner-confirmation-needed': {
    status: 409,
    title: 'The owner has to confirm this first',
    explanation:
      'A revision that offers a new machine is issued only after the owner has confirmed, for that ' +
      'revision, the refrigerant rules in force.',
    remedy: 'Let the owner look up what `statement` lists and confirm it word for word.',
  },
  'above-approval-limit': {
    status: 409,
    title: 'Above what the approver may agree to',
    explanation: 'The total is above the limit up to which the approver of the site may say yes.',
    remedy: 'Ask whoever may agree beyond it, and name them in `beyondLimitAgreedBy`.',
  },
  'draft-outdated': {
    status: 409,
    title: 'Another price book has come meanwhile',
    explanation:
      'The newest published price book is another one than the draft began as, so publishing the ' +
      'draft would undo, unseen, what changed there.',
    remedy:
      'Look at the preview of the draft. If it is right all the same, publish it with ' +
      '`overBookNumber` set to `newestNumber`; if not, begin a new draft from that book.',
  },
  'already-exists': {
    status: 409,
    title: 'Already there',
    explanation: 'Something with the same name or number already exists.',
    remedy: 'Use the one that exists, or choose another name.',
  },
  'agreement-overlaps': {
    status: 409,
    title: 'The site has an agreement then',
    explanation: 'A site has one maintenance agreement on a day.',
    remedy: 'Start it on the day the other ends (`endsOn`), or end the other one earlier.',
  },
  'version-changed': {
    status: 412,
    title: 'It has changed meanwhile',
    explanation: 'The If-Match header does not name the present version.',
    remedy: 'Read it again, look at what changed, and repeat with the new ETag.',
  },
  'shown-content-changed': {
    status: 412,
    title: 'What was shown is not what stands',
    explanation: 'The total or the content hash shown to the customer is not the issued one.',
    remedy: 'Show the quote as it stands now and ask again.',
  },
  'payload-too-large': {
    status: 413,
    title: 'The request is too large',
    explanation: 'The body is larger than this API accepts.',
    remedy: 'Send less at once.',
  },
  'unsupported-media-type': {
    status: 415,
    title: 'Not a form this API reads',
    explanation: 'The content type of the body is not supported.',
    remedy: 'Send a body of a media type that the detail names.',
  },
  'idempotency-key-reused': {
    status: 422,
    title: 'This Idempotency-Key was used for something else',
    explanation: 'The same key came earlier with another request.',
    remedy: 'Use a new key for a new act.',
  },
  'unknown-reference': {
    status: 422,
    title: 'Something named here does not exist',
    explanation: 'A field names a thing that does not exist or does not belong here.',
    remedy: 'Correct the field listed in `errors`.',
  },
  'photo-unusable': {
    status: 422,
    title: 'That photo cannot be used',
    explanation: 'The image is damaged, or it is too small to be read or too large to be opened.',
    remedy: 'Take the photo again; `reason` says what is wrong with this one.',
  },
  'reading-out-of-range': {
    status: 422,
    title: 'That reading cannot be right',
    explanation:
      'The value is outside the range this quantity can have at this point, or another reading ' +
      'of the same air rules it out; or the unit or the method does not measure this quantity; ' +
      'or the quantity cannot be read at this point. `errors` says which.',
    remedy:
      'Look at the meter again: unit, range, sign and decimal point. `likelyValue` is what was ' +
      'probably meant, and `units` lists those that measure the quantity.',
  },
  'does-not-fit': {
    status: 422,
    title: 'Fault, task and part do not fit together',
    explanation:
      'The machine has no part that could have this fault, the catalog does not mend this fault ' +
      'by this task, or the part does not match the nameplate or the task. `what` says which.',
    remedy:
      'Choose the machine it was found on and one of `allowedTasks`, and a part that matches the ' +
      'nameplate; or correct the nameplate if that is wrong.',
  },
  'above-balance': {
    status: 422,
    title: 'More than there is',
    explanation:
      'A payment may not be above what is still owed, a refund not above what was overpaid, and ' +
      'a credit not above what was charged.',
    remedy: 'Read the invoice again: `balanceCents` says what is owed; below zero, we owe it.',
  },
  'evidence-missing': {
    status: 422,
    title: 'The evidence does not carry this',
    explanation: 'Every priced line except the visit fee needs a proven or supported finding.',
    remedy: 'Measure what `criteria` ask for, or let the owner record a reason.',
  },
  'price-refused': {
    status: 422,
    title: 'The price book does not allow this',
    explanation: 'The request asks for a price that the rules do not give.',
    remedy: 'Change the request as the detail says.',
  },
  'precondition-required': {
    status: 428,
    title: 'Say which version you mean',
    explanation: 'This changes something that others may be changing too.',
    remedy: 'Send the ETag you last read in the If-Match header.',
  },
  'too-many-tries': {
    status: 429,
    title: 'Too many tries',
    explanation: 'Somebody tried to sign in too often, by this e-mail or from this address.',
    remedy: 'Wait as long as `retryAfterSeconds` says, then try again. Nothing is locked for good.',
  },
  'internal-error': {
    status: 500,
    title: 'Our mistake',
    explanation: 'Something went wrong on our side. Nothing was half done.',
    remedy: 'Try again; if it stays, report the `requestId`.',
  },
  unavailable: {
    status: 503,
    title: 'Not ready',
    explanation: 'The service is starting, stopping, overloaded, or cannot reach its database.',
    remedy: 'Wait a moment and try again.',
  },
} as const satisfies Record<string, ProblemKind>;

export type ProblemSlug = keyof typeof problemCatalog;

/** The slugs in the order of the table. */
export const problemSlugs = Object.keys(problemCatalog) as ProblemSlug[];
