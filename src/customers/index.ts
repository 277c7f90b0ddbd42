export { addCustomer } from './add-customer.ts';
export { newCustomerSchema } from './contract.ts';
export { findSettings, patternsOf, plainName } from './find-customers.ts';
export { customerRoutes } from './routes.ts';
