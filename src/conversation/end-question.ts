/** What a doctor is asked who alone may end a case. */
import type { FlowQuestion } from './flow.ts';

export const endQuestion: FlowQuestion = {
  urgency: 'question',
  about: 'end',
  options: [
    { id: 'close', reply: '1', care: false },
    { id: 'keep', reply: '2', care: true },
    { id: 'call-me', reply: '3', care: true },
  ],
};
