export { companyOf } from './company-of.ts';
export {
  endOfLocalDay,
  localDay,
  localDayText,
  localMoment,
  localMomentText,
  startOfLocalMonth,
} from './local-time.ts';
export { companyRoutes } from './routes.ts';
