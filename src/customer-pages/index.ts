export { servesCustomerPages } from './customer-pages.ts';
