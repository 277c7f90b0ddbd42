export { calendarRoutes } from './routes.ts';
export { servesCalendars } from './serves-calendars.ts';
