import type { Api } from '../../../shared/contract/api.ts';
import type { Handlers } from '../../../shared/contract/serve.ts';
import { fault } from '../../../shared/model/faults.ts';
import { fail, ok } from '../../../shared/model/outcome.ts';
import type { HostContext } from '../host-context.ts';

export const aboutHandlers = ({ facts }: HostContext): Pick<Handlers<Api>, 'about.get' | 'address.new'> => ({
  'about.get': async () => ok(facts),
  // The browser host, which has addresses, answers this itself.
  'address.new': async () => fail(fault('address-none')),
});
