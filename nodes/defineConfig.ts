import { declared, showProblem } from './define';
import type { Fields, Values } from './fields';
import type { NodeConfig, RedApi, RedNode } from './nodeRed';
import { type ConfigNode, readSettings } from './settings';

/**
 * Make a configuration node of a set of fields; those who refer to it get its checked values.
 *
 * @param shape turns the dialog's fields into what others are handed.
 */
export function defineConfig<F extends Fields>(
  type: string,
  fields: F,
  shape: (values: Values<F>) => unknown,
): (RED: RedApi) => void {
  declared.set(type, fields);
  return (RED) => {
    RED.nodes.registerType(type, function (this: RedNode, config: NodeConfig) {
      RED.nodes.createNode(this, config);
      const read = () => shape(readSettings(RED, fields, config, {}));
      (this as RedNode & ConfigNode).read = read;
      try {
        read();
      } catch (problem) {
        showProblem(RED, this, problem);
        this.error(problem);
      }
    });
  };
}
