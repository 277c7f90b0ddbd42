export { cancelTermsOf } from './cancel-terms-of.ts';
export { cancelUntilOf, type Yes } from './cancel-until.ts';
export { newConsumerRuleSchema } from './contract.ts';
export { type LegalTexts, legalTextsOf } from './legal-texts-of.ts';
export { consumerRuleRoutes } from './routes.ts';
