export { servesCustomerPages } from './customer-pages.ts';
export { stylesheetPath } from './stylesheet.ts';
