// The page that makes fair teams of a list of nicknames.

import { html, useEffect, useState } from '../vendor/preact-htm.mjs';
import { askFairTeams, askSeason } from './data.mjs';
import { FairTeams } from './fair-teams-screens.mjs';
import { keyed } from '../parts/keyed.mjs';
import { Connecting } from '../parts/parts.mjs';
import { lasting } from '../lib/storage.mjs';

const keptList = 'fieldsign.fair.list';

function Page({ secret, checked }) {
  const [seasons, setSeasons] = useState(null);
  const [made, setMade] = useState(null);
  const [message, setMessage] = useState('');

  useEffect(() => {
    checked(askSeason(secret)).then(({ data }) => setSeasons(data?.seasons ?? []));
  }, [secret]);

  async function make(wish, keep) {
    if (keep) lasting.set(keptList, wish.names.join('\n'));
    else lasting.drop(keptList);
    const { data, message: why = '' } = await checked(askFairTeams(secret, wish));
    setMessage(why);
    setMade(data ? { ...data, rated: wish.season !== '' } : null);
  }

  if (!seasons) return html`<${Connecting} />`;
  return html`<${FairTeams} seasons=${seasons} list=${lasting.get(keptList) ?? ''} made=${made} message=${message} onMake=${make} onPrint=${() => print()} />`;
}

keyed(Page);
