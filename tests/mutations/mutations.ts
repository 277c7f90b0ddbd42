import { auditAnswerMutations } from './audit-answer-mutations.ts';
import { auditMutations } from './audit-mutations.ts';
import { billMutations } from './bill-mutations.ts';
import { billingMutations } from './billing-mutations.ts';
import { boardMutations } from './board-mutations.ts';
import { derivationMutations } from './derivation-mutations.ts';
import { evidenceAuditMutations } from './evidence-audit-mutations.ts';
import type { Mutation } from './mutation.ts';
import { phoneMutations } from './phone-mutations.ts';
import { pricingMutations } from './pricing-mutations.ts';
import { quoteLifeMutations } from './quote-life-mutations.ts';
import { replicaMutations } from './replica-mutations.ts';
import { reportMutations } from './report-mutations.ts';
import { tripMutations } from './trip-mutations.ts';

/** Every deliberate mistake; `npm run mutate` shows that each is noticed. */
export const mutations: readonly Mutation[] = [
  ...pricingMutations,
  ...derivationMutations,
  ...billingMutations,
  ...quoteLifeMutations,
  ...phoneMutations,
  ...boardMutations,
  ...tripMutations,
  ...auditMutations,
  ...auditAnswerMutations,
  ...evidenceAuditMutations,
  ...billMutations,
  ...reportMutations,
  ...replicaMutations,
];
