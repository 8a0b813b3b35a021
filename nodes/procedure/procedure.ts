import { procedureFields } from '../configs';
import { defineConfig } from '../defineConfig';

export = defineConfig('bassloom-procedure', procedureFields, (values) => values);
