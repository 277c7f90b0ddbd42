export { answersLostCustomers } from './answers-lost-customers.ts';
export { servesCustomerPages } from './customer-pages.ts';
