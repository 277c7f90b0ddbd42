export { servesSignInPages } from './sign-in-pages.ts';
