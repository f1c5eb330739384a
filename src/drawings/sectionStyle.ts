/**
 * The style sheet that stands inside every section drawing; the build names it in the page's policy by its hash.
 */
export const SECTION_STYLE = '.aws-item,.aws-name,.aws-list{cursor:pointer}.aws-item:hover .aws-o{stroke-width:2.4}';
