// The parts of ECharts that our charts are made of. Users are not to install 60 MB for them: the build bundles what this
// file asks for in its place in dist/.
import { CustomChart, LineChart } from 'echarts/charts';
import { GraphicComponent, GridComponent } from 'echarts/components';
import { init, use } from 'echarts/core';
import { SVGRenderer } from 'echarts/renderers';

use([LineChart, CustomChart, GridComponent, GraphicComponent, SVGRenderer]);

export { init };
