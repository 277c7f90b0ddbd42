export { type AgreementInForce, agreementAt } from './agreement-at.ts';
export { agreementOf } from './agreement-of.ts';
export { feeAfterDiscount } from './fee-after-discount.ts';
export { agreementRoutes } from './routes.ts';
