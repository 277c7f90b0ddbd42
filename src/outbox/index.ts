export {
  type Channel,
  enqueueDelivery,
  type NewDelivery,
  type Recipient,
} from './enqueue-delivery.ts';
export { enqueueIssued } from './enqueue-issued.ts';
