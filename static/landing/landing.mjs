// The landing page.

import { html, render } from '../vendor/preact-htm.mjs';
import { Landing } from './screens.mjs';

render(html`<${Landing} />`, document.getElementById('page'));
