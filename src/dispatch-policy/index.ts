export type { DispatchPolicy } from './contract.ts';
export { dispatchPolicyOf } from './dispatch-policy-of.ts';
export { dispatchPolicyRoutes } from './routes.ts';
