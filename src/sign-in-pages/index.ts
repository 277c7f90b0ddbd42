export { passwordPath } from './addresses.ts';
export { servesSignInPages } from './sign-in-pages.ts';
