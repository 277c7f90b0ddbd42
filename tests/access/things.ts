import type { Route } from '../../src/platform/http/route.ts';
import type { World } from './build-world.ts';

/**
 * How the thing that a parameter of an address names is found among those of the made company, by
 * the parameter's name, or by the whole address where one name means two things. `shared` is what
 * belongs to nobody: a technician who may use the route at all may use all of it.
 */
const things: Readonly<Record<string, { of: string; shared?: true }>> = {
  absenceId: { of: 'absenceId' },
  agreementId: { of: 'agreementId' },
  callBackId: { of: 'callBackId' },
  certificateId: { of: 'certificateId' },
  claimId: { of: 'claimId' },
  customerId: { of: 'customerId' },
  day: { of: 'day', shared: true },
  dayPlanId: { of: 'dayPlanId' },
  deliveryId: { of: 'deliveryId' },
  draftId: { of: 'draftId' },
  equipmentId: { of: 'equipmentId' },
  feedId: { of: 'feedId' },
  findingId: { of: 'findingId' },
  flagId: { of: 'flagId' },
  helperDaysId: { of: 'helperDaysId' },
  importId: { of: 'importId' },
  invoiceId: { of: 'invoiceId' },
  linkId: { of: 'linkId' },
  list: { of: 'list', shared: true },
  memoId: { of: 'memoId' },
  name: { of: 'name', shared: true },
  paperId: { of: 'paperId' },
  partCode: { of: 'partCode', shared: true },
  partLeftOverId: { of: 'partLeftOverId' },
  partUseId: { of: 'partUseId' },
  paymentId: { of: 'paymentId' },
  placeId: { of: 'placeId' },
  priceBookId: { of: 'priceBookId' },
  quoteId: { of: 'quoteId' },
  refrigerantMoveId: { of: 'refrigerantMoveId' },
  refundId: { of: 'refundId' },
  ruleId: { of: 'ruleId' },
  sessionId: { of: 'sessionId' },
  sha256: { of: 'sha256' },
  siteId: { of: 'siteId' },
  staffId: { of: 'staffId' },
  systemId: { of: 'systemId' },
  technicianId: { of: 'technicianId' },
  ticketId: { of: 'ticketId' },
  visitId: { of: 'visitId' },
  workOutcomeId: { of: 'workOutcomeId' },
  '/v1/audit/tickets/:ticketId': { of: 'closedTicketId' },
  '/v1/imported-bills/:billId': { of: 'importedBillId' },
  '/v1/supplier-bills/:billId': { of: 'supplierBillId' },
};

/** A parameter of an address, and what there is for it in the made company. */
export interface Named {
  name: string;
  /** Its name among the made things. */
  of: string;
  isShared: boolean;
}

/** The parameters of a route's address. @throws Error for one that nothing is made for */
export function namedIn({ operationId, path }: Pick<Route, 'operationId' | 'path'>): Named[] {
  return [...path.matchAll(/:(\w+)/g)].map(([, name = '']) => {
    const thing = things[path] ?? things[name];
    if (thing !== undefined) return { name, of: thing.of, isShared: thing.shared ?? false };
    throw new Error(
      `${operationId} names a ${name}: make one in tests/access/build-world.ts, the first ` +
        'technician’s own where a technician may come to it, and enter it in tests/access/things.ts',
    );
  });
}

/** The address of a route, with what stands for each of its parameters. */
export function addressOf(
  route: Pick<Route, 'operationId' | 'path'>,
  values: World['ids'],
): string {
  return namedIn(route).reduce((path: string, { name, of }) => {
    const value = values[of];
    if (value === undefined) throw new Error(`no ${of} was made for ${route.operationId}`);
    return path.replace(`:${name}`, value);
  }, route.path);
}
