/**
 * Which Axlewright this is.
 */
export { version as APP_VERSION } from '../../package.json';
