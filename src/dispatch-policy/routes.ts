import { versionTag } from '../platform/http/etag.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { changeDispatchPolicy } from './change-dispatch-policy.ts';
import {
  type DispatchPolicy,
  dispatchPolicyChangeSchema,
  dispatchPolicySchema,
} from './contract.ts';
import { dispatchPolicyOf } from './dispatch-policy-of.ts';

export const dispatchPolicyRoutes: readonly Route[] = [
  read({
    operationId: 'getDispatchPolicy',
    summary: 'How days are planned: travel, arrival windows, how long a call usually takes',
    tag: 'dispatch policy',
    path: '/v1/dispatch-policy',
    access: ['dispatcher', 'owner'],
    response: dispatchPolicySchema,
    versioned: true,
    handle: async ({ prisma }) => answer(await dispatchPolicyOf(prisma)),
  }),
  act({
    operationId: 'changeDispatchPolicy',
    summary: 'Change how days are planned; what is booked stays as it is',
    tag: 'dispatch policy',
    method: 'PATCH',
    path: '/v1/dispatch-policy',
    access: ['owner'],
    body: dispatchPolicyChangeSchema,
    response: dispatchPolicySchema,
    ifMatch: true,
    handle: async (context, { body }) => answer(await changeDispatchPolicy(context, body)),
  }),
];

function answer(policy: DispatchPolicy) {
  return { body: policy, etag: versionTag(policy.version) };
}
