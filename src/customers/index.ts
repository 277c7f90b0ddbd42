export { addCustomer } from './add-customer.ts';
export { newCustomerSchema } from './contract.ts';
export { patternsOf, plainName } from './find-customers.ts';
export { customerRoutes } from './routes.ts';
