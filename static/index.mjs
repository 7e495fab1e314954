// The landing page.

import { html, render } from './vendor/preact-htm.mjs';
import { Landing } from './landing-screens.mjs';

render(html`<${Landing} />`, document.getElementById('page'));
