// The invented job to practise on: a street of Marlhaven, where the map is wrong about the pipe. The company's profile
// and tools are those of the demonstration.
import profile from '../../../profiles/demo-company.json?raw';
import tools from '../../../profiles/demo-tools.json?raw';

export { profile, tools };

/** The pipe as the map has it. */
export const mapPipe = {
  size: 'IPS 4', dr: '11', material: 'PE2708', year: '1994', pressure: '25psig', pipe_temperature: '60degF', plain: 'no',
};
/** What the form holds at first: the map's pipe, with the tool and the hole of the day. */
export const firstForm = { ...mapPipe, tool: 'T-4', exposed: '84in', joint: '8in' };
/** What stands on the pipe in the ground. */
export const printLine = 'MARLPIPE 4 IPS DR 11.5 PE2708 ASTM D2513';
