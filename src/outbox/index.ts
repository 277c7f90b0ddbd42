export {
  type Channel,
  enqueueDelivery,
  type NewDelivery,
  type Recipient,
} from './enqueue-delivery.ts';
export { enqueueIssued } from './enqueue-issued.ts';
export { type OutboxLag, outboxLag } from './outbox-lag.ts';
