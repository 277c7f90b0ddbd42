export {
  type CancelRight,
  type CancelTerms,
  type ConsumerRule,
  cancelTermsSchema,
  consumerRuleSchema,
} from './consumer-rule.ts';
export { fillText, type TextName, textNames, unknownNames } from './fill-text.ts';
export { lastDayToCancel } from './last-day-to-cancel.ts';
export { rulesThatApply } from './rules-that-apply.ts';
