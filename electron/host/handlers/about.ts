import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';

export const aboutHandlers = ({ facts }: HostContext): Pick<Handlers<Api>, 'about.get'> => ({
  'about.get': async () => ok(facts),
});
