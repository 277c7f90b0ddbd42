export { type BoardFeed, createBoardFeed, type FeedBounds } from './board-feed.ts';
export { boardRoutes } from './routes.ts';
