export { companyOf } from './company-of.ts';
export { localDays } from './local-days.ts';
export {
  endOfLocalDay,
  lastDayText,
  localClockText,
  localDay,
  localDayText,
  localInstant,
  localMoment,
  localMomentText,
  startOfLocalMonth,
} from './local-time.ts';
export { requiresCompany } from './requires-company.ts';
export { companyRoutes } from './routes.ts';
