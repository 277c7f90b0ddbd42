export { type Skill, skillSchema } from './contract.ts';
export { type CrewsOfDay, crewsOf } from './crews-of.ts';
export { hoursOf } from './hours-of.ts';
export { type HoursOfDay, hoursOnDays } from './hours-on-days.ts';
export { technicianRoutes } from './routes.ts';
export { isTechnician, type Technician, technicianOf } from './technician-of.ts';
