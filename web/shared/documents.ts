// Written by tools/types.mjs from schema/. Do not edit.

export interface SqueezeRequest {
  question: "squeeze";
  units?: "us" | "metric";
  size: string;
  dr?: number | string;
  sdr?: number | string;
  wall?: string | (string)[];
  wall_m?: number | (number)[];
  material?: string;
  hdb_140?: string;
  hdb_140_pa?: number;
  year?: number | string;
  made?: string;
  inserted?: "no" | "yes" | "unknown";
  cased?: "no" | "yes" | "unknown";
  layered?: "no" | "yes" | "unknown";
  lined?: "no" | "yes" | "unknown";
  pressure?: string;
  pressure_pa_gauge?: number;
  maop?: string;
  maop_pa_gauge?: number;
  pipe_temperature?: string;
  pipe_temperature_k?: number;
  procedure?: string | Record<string, unknown>;
  tool?: string | Record<string, unknown>;
  stops?: string | Record<string, unknown>;
  stop?: string | (string)[];
  double?: boolean;
  full?: boolean;
  yield_scale?: number;
  every?: string;
  every_m?: number;
  exposed?: string;
  exposed_m?: (number)[];
  features?: string | (string | {
    kind: string;
    at?: string;
    at_m?: (number)[];
  })[];
  tool_half_width?: string;
  tool_half_width_m?: number;
}

export interface SqueezeReply {
  question: "squeeze";
  engine: string;
  units: "us" | "metric";
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  profile: {
    id: string;
    title: string;
  };
  pipe: {
    size: string;
    od_m: number;
    od_low_m: number | null;
    od_high_m: number | null;
    od_source: string;
    od_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    ratio: number | null;
    material: string | null;
    made: {
      from: string;
      to: string;
    } | null;
    wall_min_m: number | null;
    wall_nominal_m: number | null;
    wall_max_m: number | null;
    wall_measured: boolean;
    wall_source: string;
    wall_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered" | null;
    pressure_pa_gauge: number | null;
    maop_pa_gauge: number | null;
    temperature_k: number | null;
    lining: {
      inserted: "no" | "yes" | "unknown";
      cased: "no" | "yes" | "unknown";
      layered: "no" | "yes" | "unknown";
      lined: "no" | "yes" | "unknown";
    };
    design: {
      pressure_pa_gauge: number | null;
      form: string;
      source: string;
      strength_pa: number | null;
      strength_source: string;
      strength_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered" | null;
    };
  };
  stop_gap_m: number | null;
  stop_gap_on: {
    basis: "minimum" | "nominal" | "maximum" | "measured_else_minimum" | null;
    wall_m: number | null;
    compression: number | null;
  };
  stop: {
    id: string;
    gap_m: number;
  } | null;
  stops: ({
    id: string;
    gap_m: number;
    sizes: (string)[];
    ratios: (number)[];
    at_min_wall: number;
    at_nominal_wall: number;
    at_max_wall: number;
    fits: boolean;
    because: string;
  })[];
  gap_m: number | null;
  wall_compression: {
    of: string;
    at_min_wall: number;
    at_nominal_wall: number;
    at_max_wall: number;
  } | null;
  travel_m: number | null;
  close: {
    speed_m_per_s: number;
    shortest_moving_s: number;
    shortest_with_waits_s: number;
    shortest_s: number;
    shortest_per_count_s: number | null;
    steps: ({
      from_gap_m: number;
      to_gap_m: number;
      starts_s: number;
      ends_s: number;
      wait_s: number;
    })[];
    waits: number;
    marks: ({
      gap_m: number;
      travelled_m: number;
      at_s: number;
      count: number | null;
    })[];
  } | null;
  open: {
    speed_m_per_s: number;
    shortest_moving_s: number;
    shortest_with_waits_s: number;
    shortest_s: number;
    shortest_per_count_s: number | null;
    steps: ({
      from_gap_m: number;
      to_gap_m: number;
      starts_s: number;
      ends_s: number;
      wait_s: number;
    })[];
    waits: number;
    marks: ({
      gap_m: number;
      travelled_m: number;
      at_s: number;
      count: number | null;
    })[];
  } | null;
  at_limit: {
    wait_s: number | null;
    says: string;
  };
  hold_most_s: number | null;
  limits: ({
    rule: string;
    asks: string;
    says: string;
    value_si: number | null;
    unit_si: string;
    law: boolean;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    row: string;
    approved_by: string;
  })[];
  tool: {
    id: string;
    title: string;
    drive: "hydraulic" | "screw" | "other";
    sizes: (string)[];
    ratios: (number)[];
    pressure_most_pa_gauge: number | null;
    temperature_least_k: number | null;
    temperature_most_k: number | null;
    ram_area_m2: number | null;
    pump_limit_pa_gauge: number | null;
    bar: "round" | "flat" | null;
    bar_radius_m: number | null;
    guide_spacing_m: number | null;
    half_width_m: number | null;
    counted_in: "strokes" | "turns" | null;
    travel_per_count_m: number | null;
    force_at_limit_n: number | null;
    instructions: {
      before: (string)[];
      lowering: (string)[];
      during: (string)[];
      holding: (string)[];
      opening: (string)[];
      after: (string)[];
      storing: (string)[];
    };
    source: string;
    count: number | null;
    on_truck: number | null;
  } | null;
  clearance_m: number | null;
  tool_half_width_m: number | null;
  exposed_m: (number)[] | null;
  features: ({
    kind: string;
    at_m: (number)[];
  })[];
  windows_m: ((number)[])[] | null;
  windows_seen_m: ((number)[])[] | null;
  place_m: number | null;
  places_m: (number)[];
  hole: {
    one_m: number;
    one_and_spare_m: number;
    two_m: number;
    two_and_spare_m: number;
    beside_joint: {
      one_m: number;
      one_and_spare_m: number;
      two_m: number;
      two_and_spare_m: number;
    } | null;
  } | null;
  arrangement: "one" | "two" | "undecided";
  force_n: {
    curve: ({
      gap_m: number | null;
      low: number | null;
      expected: number | null;
      high: number | null;
    })[];
    at_walls_meeting: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    at_stops: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
  } | null;
  pump: {
    at_touch_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    at_half_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    at_walls_meeting_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    at_stops_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    after_wait_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    pumped_again_pa_gauge: {
      low: number | null;
      expected: number | null;
      high: number | null;
    };
    reaches_stops: "yes" | "no" | "unsure" | null;
    reaches_down_to_k: number | null;
  } | null;
  hold: ({
    t_s: number | null;
    fraction: number | null;
  })[];
  source: "closed_form" | "table" | "full";
  band_method: string;
  prompts: ({
    says: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PaceRequest {
  question: "pace";
  units?: "us" | "metric";
  size: string;
  dr?: number | string;
  sdr?: number | string;
  wall?: string | (string)[];
  wall_m?: number | (number)[];
  material?: string;
  hdb_140?: string;
  hdb_140_pa?: number;
  year?: number | string;
  made?: string;
  inserted?: "no" | "yes" | "unknown";
  cased?: "no" | "yes" | "unknown";
  layered?: "no" | "yes" | "unknown";
  lined?: "no" | "yes" | "unknown";
  pressure?: string;
  pressure_pa_gauge?: number;
  maop?: string;
  maop_pa_gauge?: number;
  pipe_temperature?: string;
  pipe_temperature_k?: number;
  procedure?: string | Record<string, unknown>;
  tool?: string | Record<string, unknown>;
  stops?: string | Record<string, unknown>;
  stop?: string | (string)[];
  double?: boolean;
  every?: string;
  every_m?: number;
  recording?: string;
  points?: (string)[];
  gap_read_to?: string;
  gap_read_to_m?: number;
  still_within?: string;
  still_within_m?: number;
}

export interface PaceReply {
  question: "pace";
  engine: string;
  units: "us" | "metric";
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  profile: {
    id: string;
    title: string;
  };
  pipe: {
    size: string;
    od_m: number;
    od_low_m: number | null;
    od_high_m: number | null;
    od_source: string;
    od_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    ratio: number | null;
    material: string | null;
    made: {
      from: string;
      to: string;
    } | null;
    wall_min_m: number | null;
    wall_nominal_m: number | null;
    wall_max_m: number | null;
    wall_measured: boolean;
    wall_source: string;
    wall_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered" | null;
    pressure_pa_gauge: number | null;
    maop_pa_gauge: number | null;
    temperature_k: number | null;
    lining: {
      inserted: "no" | "yes" | "unknown";
      cased: "no" | "yes" | "unknown";
      layered: "no" | "yes" | "unknown";
      lined: "no" | "yes" | "unknown";
    };
    design: {
      pressure_pa_gauge: number | null;
      form: string;
      source: string;
      strength_pa: number | null;
      strength_source: string;
      strength_evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered" | null;
    };
  };
  stop_gap_m: number | null;
  stop_gap_on: {
    basis: "minimum" | "nominal" | "maximum" | "measured_else_minimum" | null;
    wall_m: number | null;
    compression: number | null;
  };
  stop: {
    id: string;
    gap_m: number;
  } | null;
  stops: ({
    id: string;
    gap_m: number;
    sizes: (string)[];
    ratios: (number)[];
    at_min_wall: number;
    at_nominal_wall: number;
    at_max_wall: number;
    fits: boolean;
    because: string;
  })[];
  gap_m: number | null;
  wall_compression: {
    of: string;
    at_min_wall: number;
    at_nominal_wall: number;
    at_max_wall: number;
  } | null;
  travel_m: number | null;
  close: {
    speed_m_per_s: number;
    shortest_moving_s: number;
    shortest_with_waits_s: number;
    shortest_s: number;
    shortest_per_count_s: number | null;
    steps: ({
      from_gap_m: number;
      to_gap_m: number;
      starts_s: number;
      ends_s: number;
      wait_s: number;
    })[];
    waits: number;
    marks: ({
      gap_m: number;
      travelled_m: number;
      at_s: number;
      count: number | null;
    })[];
  } | null;
  open: {
    speed_m_per_s: number;
    shortest_moving_s: number;
    shortest_with_waits_s: number;
    shortest_s: number;
    shortest_per_count_s: number | null;
    steps: ({
      from_gap_m: number;
      to_gap_m: number;
      starts_s: number;
      ends_s: number;
      wait_s: number;
    })[];
    waits: number;
    marks: ({
      gap_m: number;
      travelled_m: number;
      at_s: number;
      count: number | null;
    })[];
  } | null;
  at_limit: {
    wait_s: number | null;
    says: string;
  };
  hold_most_s: number | null;
  limits: ({
    rule: string;
    asks: string;
    says: string;
    value_si: number | null;
    unit_si: string;
    law: boolean;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    row: string;
    approved_by: string;
  })[];
  tool: {
    id: string;
    title: string;
    drive: "hydraulic" | "screw" | "other";
    sizes: (string)[];
    ratios: (number)[];
    pressure_most_pa_gauge: number | null;
    temperature_least_k: number | null;
    temperature_most_k: number | null;
    ram_area_m2: number | null;
    pump_limit_pa_gauge: number | null;
    bar: "round" | "flat" | null;
    bar_radius_m: number | null;
    guide_spacing_m: number | null;
    half_width_m: number | null;
    counted_in: "strokes" | "turns" | null;
    travel_per_count_m: number | null;
    force_at_limit_n: number | null;
    instructions: {
      before: (string)[];
      lowering: (string)[];
      during: (string)[];
      holding: (string)[];
      opening: (string)[];
      after: (string)[];
      storing: (string)[];
    };
    source: string;
    count: number | null;
    on_truck: number | null;
  } | null;
  recording: {
    stretches: ({
      moved: "closing" | "still" | "opening";
      from_s: number;
      to_s: number;
      from_gap_m: number;
      to_gap_m: number;
      pace_m_per_s: number;
      too_fast: boolean;
    })[];
    deviations: ({
      rule: string;
      says: string;
      from_s: number;
      to_s: number;
      from_gap_m: number;
      to_gap_m: number;
      value_si: number | null;
      limit_si: number | null;
      unit_si: string;
    })[];
    closing: {
      began_s: number;
      took_s: number;
      travel_m: number;
      least_moving_s: number | null;
      least_s: number | null;
      waits_needed: number;
      waits_seen: number;
      waits_missing: number;
    } | null;
    opening: {
      began_s: number;
      took_s: number;
      travel_m: number;
      least_moving_s: number | null;
      least_s: number | null;
      waits_needed: number;
      waits_seen: number;
      waits_missing: number;
    } | null;
    least_gap_m: number;
    most_pump_pa_gauge: number | null;
    on_the_stops: boolean | null;
    pump_at_limit: boolean;
    squeezed_s: number;
    not_known: (string)[];
  } | null;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface WatchRequest {
  question: "watch";
  asks: "fed_elsewhere" | "shut_off_tight" | "all_meters_shut";
  units?: "us" | "metric";
  procedure?: string | Record<string, unknown>;
  volume?: string;
  volume_m3?: number;
  bore?: string;
  bore_m?: number;
  length?: string;
  length_m?: number;
  temperature?: string;
  temperature_k?: number;
  barometer?: string;
  barometer_pa_abs?: number;
  base_pressure?: string;
  base_pressure_pa_abs?: number;
  base_temperature?: string;
  base_temperature_k?: number;
  gravity?: number;
  draw?: string;
  draw_std_m3_per_s?: (number)[];
  let_by?: string;
  let_by_std_m3_per_s?: number;
  pressure?: string;
  pressure_pa_gauge?: number;
  floor?: string;
  floor_pa_gauge?: number;
  gauge_step?: string;
  gauge_step_pa_diff?: number;
  steps?: number;
  gauge_range?: string;
  gauge_range_pa_gauge?: (number)[];
  within?: string;
  within_s?: number;
  barometer_drift?: string;
  barometer_drift_pa_diff?: number;
  barometer_drift_pa_per_s?: number;
  temperature_drift?: string;
  temperature_drift_k_diff?: number;
  temperature_drift_k_per_s?: number;
  readings?: (string)[] | ({
    at?: string;
    at_s?: number;
    pressure?: string;
    pressure_pa_gauge?: number;
  })[];
  readings_table?: string;
}

export interface WatchReply {
  question: "watch";
  asks: "fed_elsewhere" | "shut_off_tight" | "all_meters_shut";
  units: "us" | "metric";
  profile: {
    id: string;
    title: string;
  };
  says: string;
  not_concluded: (string)[];
  base: {
    pa_abs: number;
    k: number;
  };
  volume_m3: number;
  temperature_k: number;
  barometer_pa_abs: number;
  pressure_pa_gauge: number;
  draw_std_m3_per_s: (number)[] | null;
  must_show_std_m3_per_s: number | null;
  fall_pa_per_s: {
    low: number | null;
    high: number | null;
  };
  rise_pa_per_s: {
    low: number | null;
    high: number | null;
  };
  gauge: {
    step_pa_diff: number;
    steps: number;
    range_pa_gauge: (number)[] | null;
  };
  must_move_pa_diff: number;
  faked_pa_diff: number;
  watch_s: number | null;
  within_s: number | null;
  step_needed_pa_diff: number | null;
  floor_pa_gauge: number | null;
  usable_std_m3: number | null;
  time_left_s: number | null;
  time_left_longest_s: number | null;
  out_at_once: boolean | null;
  expect: ({
    at_s: number;
    at_low_flow_pa_gauge: number;
    at_high_flow_pa_gauge: number;
  })[];
  shows: ({
    in_s: number;
    flow_std_m3_per_s: number;
  })[];
  finer: ({
    step_pa_diff: number;
    watch_s: number;
  })[];
  readings: {
    count: number;
    needle: "too_soon" | "held" | "fell" | "rose" | "moved" | "both_ways";
    watched_s: number;
    last_pa_gauge: number;
    fell_pa_diff: number;
    rose_pa_diff: number;
    change_pa_diff: number;
    rate_pa_per_s: number | null;
    flow_std_m3_per_s: number | null;
    time_left_at_rate_s: number | null;
    usable_std_m3: number | null;
    time_left_s: number | null;
    time_left_longest_s: number | null;
    out_at_once: boolean | null;
  } | null;
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  engine: string;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PrintLineRequest {
  question: "print-line";
  text?: string;
  code?: string;
}

export interface PrintLineReply {
  question: "print-line";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  size: string | null;
  ratio: number | null;
  material: string | null;
  standards: (string)[];
  not_understood: (string)[];
  component: {
    code: string;
    maker: string;
    lot: number;
    lot_text: string;
    date_text: string;
    material: string;
    type: string;
    size: string;
    reserved: string;
    made: {
      year: number;
      day_of_year: number;
    } | null;
  } | null;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PipesRequest {
  question: "pipes";
}

export interface PipesReply {
  question: "pipes";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  sizes: ({
    name: string;
    system: "IPS" | "CTS" | "dn";
    ratios: (number)[];
    od_m: number;
    source: string;
  })[];
  materials: ({
    name: string;
    history: string;
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface VentRequest {
  question: "vent";
  units?: "us" | "metric";
  volume?: string;
  volume_m3?: number;
  bore?: string;
  bore_m?: number;
  length?: string;
  length_m?: number;
  temperature?: string;
  temperature_k?: number;
  barometer?: string;
  barometer_pa_abs?: number;
  base_pressure?: string;
  base_pressure_pa_abs?: number;
  base_temperature?: string;
  base_temperature_k?: number;
  gravity?: number;
  pressure?: string;
  pressure_pa_gauge?: number;
  down_to?: string;
  down_to_pa_gauge?: number;
  stack_bore?: string;
  stack_bore_m?: number;
  stack_length?: string;
  stack_length_m?: number;
  stack_height?: string;
  stack_height_m?: number;
  loss?: number;
  roughness?: string;
  roughness_m?: number;
}

export interface VentReply {
  question: "vent";
  units: "us" | "metric";
  base: {
    pa_abs: number;
    k: number;
  };
  volume_m3: number;
  temperature_k: number;
  barometer_pa_abs: number;
  gravity: number;
  pressure_pa_gauge: number;
  down_to_pa_gauge: number;
  stack: {
    bore_m: number;
    length_m: number;
    height_m: number;
    loss: number;
    roughness_m: number;
  };
  takes_s: number;
  choked_until_s: number | null;
  rests_at_pa_gauge: number;
  gas_std_m3: number;
  gas_kg: number;
  course: ({
    at_s: number;
    pressure_pa_gauge: number;
    flow_kg_per_s: number;
    choked: boolean;
  })[];
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  engine: string;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PressureTestRequest {
  question: "pressure-test";
  units?: "us" | "metric";
  size: string;
  dr?: number | string;
  sdr?: number | string;
  wall?: string | (string)[];
  wall_m?: number | (number)[];
  material?: string;
  hdb_140?: string;
  hdb_140_pa?: number;
  year?: number | string;
  made?: string;
  inserted?: "no" | "yes" | "unknown";
  cased?: "no" | "yes" | "unknown";
  layered?: "no" | "yes" | "unknown";
  lined?: "no" | "yes" | "unknown";
  pressure?: string;
  pressure_pa_gauge?: number;
  maop?: string;
  maop_pa_gauge?: number;
  pipe_temperature?: string;
  pipe_temperature_k?: number;
  volume?: string;
  volume_m3?: number;
  bore?: string;
  bore_m?: number;
  length?: string;
  length_m?: number;
  mop?: string;
  mop_pa_gauge?: number;
  ends?: string | ("blank" | "cap" | "valve" | "live_valve" | "squeeze")[];
  parts?: (string)[];
  start?: string | {
    pressure?: string;
    pressure_pa_gauge?: number;
    temperature?: string;
    temperature_k?: number;
    barometer?: string;
    barometer_pa_abs?: number;
  };
  end?: string | {
    pressure?: string;
    pressure_pa_gauge?: number;
    temperature?: string;
    temperature_k?: number;
    barometer?: string;
    barometer_pa_abs?: number;
  };
  duration?: string;
  duration_s?: number;
  loaded_before?: string;
  loaded_before_s?: number;
  gauge_step?: string;
  gauge_step_pa_diff?: number;
  temperature_step?: string;
  temperature_step_k_diff?: number;
  leak?: string;
  leak_std_m3_per_s?: number;
  barometer?: string;
  barometer_pa_abs?: number;
  base_pressure?: string;
  base_pressure_pa_abs?: number;
  base_temperature?: string;
  base_temperature_k?: number;
  pretested?: (string)[];
  tie_ins?: (string)[];
  line_pressure?: string;
  line_pressure_pa_gauge?: number;
  procedure?: string | Record<string, unknown>;
}

export interface PressureTestReply {
  question: "pressure-test";
  units: "us" | "metric";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  profile: {
    id: string;
    title: string;
  };
  base: {
    pa_abs: number;
    k: number;
  };
  says: string;
  cautions: (string)[];
  pipe: {
    size: string;
    ratio: number | null;
    material: string | null;
  };
  ends: ("blank" | "cap" | "valve" | "live_valve" | "squeeze")[];
  mop_pa_gauge: number | null;
  volume_m3: number | null;
  barometer_pa_abs: number | null;
  start: {
    pressure_pa_gauge: number | null;
    temperature_k: number | null;
    barometer_pa_abs: number | null;
  } | null;
  end: {
    pressure_pa_gauge: number | null;
    temperature_k: number | null;
    barometer_pa_abs: number | null;
  } | null;
  duration_s: number | null;
  least_pa_gauge: number | null;
  least_by: string;
  most_pa_gauge: number | null;
  most_by: string;
  fill_pa_gauge: number | null;
  expected_end_pa_gauge: number | null;
  creep_pa_diff: {
    low: number | null;
    high: number | null;
  };
  dilation_pa_diff: {
    low: number | null;
    high: number | null;
  };
  reading_error_pa_diff: number | null;
  missing_pa_diff: number | null;
  missing_std_m3: number | null;
  missing_std_m3_per_s: number | null;
  smallest_leak_std_m3_per_s: number | null;
  duration_needed_s: number | null;
  energy_j: number | null;
  judgement: "no_leak_found" | "leak" | "not_explained" | null;
  pretested: ({
    id: string;
    pressure_pa_gauge: number | null;
    duration_s: number | null;
  })[];
  tie_ins: ({
    id: string;
    pressure_pa_gauge: number | null;
    shows: "not_told" | "no_bubbles" | "bubbles";
  })[];
  line_pressure_pa_gauge: number | null;
  gauge_leak_std_m3_per_s: number | null;
  smallest_by: string;
  keep_off_m: number | null;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PurgeRequest {
  question: "purge";
  units?: "us" | "metric";
  bore?: string;
  bore_m?: number;
  length?: string;
  length_m?: number;
  speed?: string;
  speed_m_per_s?: number;
  roughness?: string;
  roughness_m?: number;
  pack_to?: string;
  pack_to_pa_gauge?: number;
  readings?: (string)[];
  gravity?: number;
  temperature?: string;
  temperature_k?: number;
  barometer?: string;
  barometer_pa_abs?: number;
  base_pressure?: string;
  base_pressure_pa_abs?: number;
  base_temperature?: string;
  base_temperature_k?: number;
  instrument?: "catalytic" | "thermal_conductivity" | "infrared";
  stack_bore?: string;
  stack_bore_m?: number;
  stack_height?: string;
  stack_height_m?: number;
  line_pressure?: string;
  line_pressure_pa_gauge?: number;
  stack_loss?: number;
  network?: string;
  plan?: string | Record<string, unknown>;
  rank?: number;
  rider?: (string)[];
  hour?: number;
  load?: "low" | "expected" | "high";
  law?: "general" | "fuel_gas_code";
  ground_temperature?: string;
  ground_temperature_k?: number;
  procedure?: string | Record<string, unknown>;
}

export interface PurgeReply {
  question: "purge";
  units: "us" | "metric";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  profile: {
    id: string;
    title: string;
  };
  base: {
    pa_abs: number;
    k: number;
  };
  says: string;
  cautions: (string)[];
  bore_m?: number | null;
  length_m?: number | null;
  barometer_pa_abs: number | null;
  temperature_k: number | null;
  speed_m_per_s?: number | null;
  least_speed_m_per_s?: number | null;
  least_by?: string;
  flow_m3_per_s?: number | null;
  volume_m3: number | null;
  time_s?: number | null;
  time_planned_s?: number | null;
  gas_used_std_m3?: number | null;
  mixing_m?: number | null;
  mixing_valid?: {
    reynolds: number | null;
    regime: "laminar" | "turbulent";
    as_measured: boolean;
    says: string;
  };
  flammable_m?: number | null;
  slug_least_m?: number | null;
  pack_to_pa_gauge?: number | null;
  pack_std_m3?: number | null;
  readings?: ({
    share: number | null;
    of: "gas" | "lel";
  })[];
  ended?: boolean | null;
  gas_lost_std_m3?: number | null;
  slug_gas_std_m3?: number | null;
  slug_asked?: boolean;
  stack: {
    bore_m: number | null;
    height_m: number | null;
    loss: number;
  } | null;
  line_pa_gauge?: number | null;
  foot_pa_gauge?: number | null;
  inlet_pa_gauge?: number | null;
  instrument?: "not_told" | "catalytic" | "thermal_conductivity" | "infrared";
  plan_id?: string;
  rank?: number;
  legs?: ({
    feed: "bypass" | "rider" | "valve" | "squeeze" | "filled";
    end: string | null;
    from: string;
    vent: string;
    runs: ({
      pipe: string;
      from_station_m: number | null;
      to_station_m: number | null;
      bore_m: number | null;
    })[];
    length_m: number | null;
    volume_m3: number | null;
    bore_m: number | null;
    speed_m_per_s: number | null;
    flow_m3_per_s: number | null;
    time_s: number | null;
    time_planned_s: number | null;
    mixing_m: number | null;
    flammable_m: number | null;
    slug_gas_std_m3: number | null;
    gas_used_std_m3: number | null;
    gas_lost_std_m3: number | null;
    foot_pa_gauge: number | null;
    inlet_pa_gauge: number | null;
    before_pa_gauge: number | null;
    purging_pa_gauge: number | null;
    short_of_gas: (string)[];
  })[];
  services?: ({
    customer: string;
    street: string | null;
    pipe: string;
    station_m: number | null;
    away_m: number | null;
    excess_flow_valve: "no" | "yes" | "unknown";
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface TimeLeftRequest {
  question: "time-left";
  network: string;
  units?: "us" | "metric";
  temperature?: string;
  temperature_k?: number;
  hour?: number;
  close?: (string)[];
  ground_temperature?: string;
  ground_temperature_k?: number;
  gravity?: number;
  law?: "general" | "fuel_gas_code";
  over?: string;
  over_s?: number;
  horizon?: string;
  horizon_s?: number;
  readings?: (string)[];
  until?: string;
  procedure?: string | Record<string, unknown>;
  plan?: string | Record<string, unknown>;
  rank?: number;
  start?: string;
  takes?: (string)[];
  found?: (string)[];
}

export interface TimeLeftReply {
  question: "time-left";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  says: string;
  time_left_s: number | null;
  horizon_s: number;
  cut_off: number;
  customers: ({
    id: string;
    street: string;
    must_not_lose: boolean;
    cut_off: boolean;
    at_once: boolean;
    time_left_s: number;
    expected_s: number | null;
    longest_s: number | null;
    pressure_now_pa_gauge: number | null;
    least_pa_gauge: number | null;
  })[];
  readings: ({
    at_s: number;
    place: string;
    pressure_pa_gauge: number;
    expected_pa_gauge: number | null;
    draw_factor: number | null;
  })[];
  fit: {
    draw_factor_least: number;
    draw_factor_middle: number;
    draw_factor_most: number;
  } | null;
  account: {
    held_before_kg: number;
    held_after_kg: number;
    fed_kg: number;
    delivered_kg: number;
  };
  start_if: {
    until_s: number;
    stays_above_k: number | null;
    at_coldest: boolean;
    short_below: string | null;
    says: string;
  } | null;
  conditions: {
    temperature_k: number;
    ground_temperature_k: number;
    hour: number;
    closed: (string)[];
    procedure: string;
  };
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JobStateRequest {
  question: "job-state";
  log: string;
  units?: "us" | "metric";
}

export interface JobStateReply {
  question: "job-state";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  job: string;
  events: number;
  opened: {
    title: string;
    place: string | null;
    work_order: string | null;
    work: "planned" | "emergency" | "drill";
    lon: number | null;
    lat: number | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  } | null;
  closed: {
    says: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  } | null;
  plan: {
    plan_id: string;
    result: string;
    rank: number;
    engine: string;
    network: string | null;
    procedure: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
    accepted: {
      plan_id: string;
      result: string;
      engine: string;
      because: string | null;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
    pipe_found_since: {
      about: string;
      pipe: string;
      says: string | null;
      print_line: string | null;
      map_said: string | null;
      photos: (string)[];
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
  } | null;
  cut: boolean;
  steps: ({
    id: string;
    kind: string;
    does: string;
    about: string;
    hold_point: boolean;
    point_of_no_return: boolean;
    names_needed: number;
    behind: boolean;
    answer: {
      step: string;
      answer: "yes" | "no" | "not_needed" | "unknown";
      second: string | null;
      says: string | null;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
  })[];
  shutoffs: ({
    id: string;
    kind: string | null;
    element: string | null;
    place: string | null;
    mapped: string | null;
    found: {
      about: string;
      pipe: string;
      says: string | null;
      print_line: string | null;
      map_said: string | null;
      photos: (string)[];
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
    differs: string | null;
    shut: boolean;
    acts: ({
      did: "shut" | "undone" | "cut" | "opened" | "put_back";
      about: string | null;
      second: string | null;
      says: string | null;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
    bars: ({
      about: string;
      gap_m: number;
      pump_pa_gauge: number | null;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
  })[];
  gates: ({
    gate: "cut" | "open_after_cut" | "put_back";
    clear: boolean;
    against: ({
      rule: string;
      grade: "halt" | "undecided" | "warn" | "info";
      says: string;
      quantity: string;
      value_si: number | null;
      limit_si: number | null;
      unit_si: string;
      source: string;
      evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
      action: string;
      about: string;
      decides: "person_in_charge" | "engineer" | "gas_control";
    })[];
  })[];
  people: ({
    id: string;
    roles: ({
      person: string;
      role: string;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
    left: {
      person: string;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
    qualifications: ({
      person: string;
      task: string;
      expires: string | null;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
    signs: ({
      what: string;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
  })[];
  outage: {
    affected: (string)[];
    not_visited: (string)[];
    meters: ({
      meter: string;
      now: string;
      visits: ({
        meter: string;
        did: "off" | "on" | "not_home";
        says: string | null;
        stamp: {
          happened_at: string;
          entered_at: string;
          by: string | null;
          device: string;
          source: "tapped" | "typed" | "sensor" | "imported";
          event: string;
        };
      })[];
    })[];
  };
  conflicts: ({
    about: string;
    used: string;
    sides: ({
      says: string;
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    })[];
  })[];
  prompts: ({
    says: string;
    answer: {
      says: string;
      answer: "yes" | "no" | "not_needed" | "unknown";
      stamp: {
        happened_at: string;
        entered_at: string;
        by: string | null;
        device: string;
        source: "tapped" | "typed" | "sensor" | "imported";
        event: string;
      };
    } | null;
  })[];
  instruments: ({
    id: string;
    scale: string;
    range: string | null;
    read_to: string | null;
    due: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  kit: ({
    item: string;
    id: string | null;
    says: string | null;
    answer: "yes" | "no" | "not_needed" | "unknown";
    due: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  readings: ({
    point: string;
    step?: string | null;
    instrument?: string | null;
    typed?: string | null;
    scale: "gauge" | "absolute" | "temperature" | "gas" | "lel";
    pressure_pa_gauge?: number | null;
    pressure_pa_abs?: number | null;
    temperature_k?: number | null;
    gas?: number | null;
    lel?: number | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  acts: ({
    did: "shut" | "undone" | "cut" | "opened" | "put_back";
    about: string | null;
    second: string | null;
    says: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  handovers: ({
    from: string;
    to: string;
    says: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  tests: ({
    section: string;
    medium: string | null;
    instrument: string | null;
    company: string | null;
    employee: string | null;
    elevation: string | null;
    leaks: string | null;
    began: string | null;
    ended: string | null;
    held: "yes" | "no" | "not_needed" | "unknown";
    at_start_pa_gauge: number | null;
    at_end_pa_gauge: number | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  purges: ({
    section: string;
    direction: string | null;
    medium: string | null;
    vent: string | null;
    detector: string | null;
    at_vent: string | null;
    began: string | null;
    ended: string | null;
    volume_m3: number | null;
    reading_1: number | null;
    reading_2: number | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  laid: ({
    about: string | null;
    what: string;
    says: string | null;
    element: string | null;
    lon: number | null;
    lat: number | null;
    marked: "yes" | "no" | "not_needed" | "unknown";
    depth_m: number | null;
    station_m: number | null;
    offsets: ({
      from: string;
      distance_m: number;
    })[];
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  results: ({
    question: string;
    engine: string;
    verdict: string | null;
    request: string | null;
    result: string;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  photos: ({
    blob: string;
    view: string;
    about: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  notes: ({
    says: string;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  corrections: ({
    corrects: string;
    because: string;
    instead: string | null;
    kind: string | null;
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  gates_passed: ({
    gate: string;
    reason: string;
    second: string;
    passed: ({
      rule: string;
      grade: "halt" | "undecided" | "warn" | "info";
      says: string;
      quantity: string;
      value_si: number | null;
      limit_si: number | null;
      unit_si: string;
      source: string;
      evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
      action: string;
      about: string;
      decides: "person_in_charge" | "engineer" | "gas_control";
    })[];
    stamp: {
      happened_at: string;
      entered_at: string;
      by: string | null;
      device: string;
      source: "tapped" | "typed" | "sensor" | "imported";
      event: string;
    };
  })[];
  heads: (string)[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JobHandoverRequest {
  question: "job-handover";
  log: string;
  units?: "us" | "metric";
}

export interface JobHandoverReply {
  question: "job-handover";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  job: string;
  lines: ({
    head: string;
    says: (string)[];
  })[];
  words: number;
  read_aloud_s: number;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JobVerifyRequest {
  question: "job-verify";
  log: string;
  name?: string;
  heads?: (string)[];
}

export interface JobVerifyReply {
  question: "job-verify";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  name: string;
  lines: number;
  job: string | null;
  heads: (string)[];
  faults: ({
    how: "edited" | "unread" | "removed" | "moved" | "doubled" | "forked" | "strange";
    line: number | null;
    says: string;
    event: string | null;
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JobPlanRequest {
  question: "job-plan";
  plan: string | Record<string, unknown>;
  rank?: number;
  title: string;
  work?: "planned" | "emergency" | "drill";
}

export interface JobPlanReply {
  question: "job-plan";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  drafts: ({
    kind: "opened" | "planned";
    fact: Record<string, unknown>;
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JobRadioRequest {
  question: "job-radio";
  log: string;
  units?: "us" | "metric";
  about?: string;
  code?: string;
  heard_at?: string;
}

export interface JobRadioReply {
  question: "job-radio";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  code: string;
  spelled: string;
  about: string;
  did: "shut" | "undone" | "cut" | "opened" | "put_back" | null;
  cut: boolean;
  at: string;
  gap_m: number | null;
  part_pa_gauge: number | null;
  says: string;
  drafts: ({
    kind: "act" | "bars" | "reading";
    fact: Record<string, unknown>;
    source: "imported";
    happened_at: string;
  })[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface GaugeRequest {
  question: "gauge";
  units?: "us" | "metric";
  size: string;
  bar_radius?: string;
  bar_radius_m?: number;
  ram_area?: string;
  ram_area_m2?: number;
  close_in?: string;
  close_in_s?: number;
  pressure?: string;
  pressure_pa_gauge?: number;
  read_to?: string;
  read_to_pa_gauge?: number;
  readings: (string)[];
  pipe_temperature?: string;
  pipe_temperature_k?: (number)[];
  map_dr?: number;
  map_material?: string;
}

export interface GaugeReply {
  question: "gauge";
  units: "us" | "metric";
  size: string;
  readings: ({
    gap_m: number;
    pump_pa_gauge: number;
  })[];
  cannot_tell_apart: ({
    ratio: number;
    materials: (string)[];
    coldest_k: number;
    warmest_k: number;
  })[];
  map: "nothing" | "fits" | "contradicted";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface PlanRequest {
  question: "plan";
  network: string;
  units?: "us" | "metric";
  at?: string;
  reach?: string;
  reach_m?: number;
  pipe?: string;
  node?: string;
  polygon?: string;
  kind?: "planned" | "emergency";
  temperature?: string;
  temperature_k?: number;
  hour?: number;
  ground_temperature?: string;
  ground_temperature_k?: number;
  gravity?: number;
  law?: "general" | "fuel_gas_code";
  load?: "low" | "expected" | "high";
  pipe_temperature?: string;
  pipe_temperature_k?: number;
  procedure?: string | Record<string, unknown>;
  tools?: string | Record<string, unknown>;
  date?: string;
  plans?: number;
  crews?: number;
  asked_at?: string;
  shut_offs?: (string)[];
  order?: string | Record<string, unknown>;
  bypass?: "yes" | "no";
  found?: (string)[];
}

export interface PlanReply {
  question: "plan";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  kind: "planned" | "emergency";
  plan_id: string;
  network: {
    name: string;
    hash: string;
    crs: string;
    imported_from: string;
    map_date: string;
  };
  conditions: {
    temperature_k: number;
    hour: number;
    load: string;
    law: string;
    procedure: string;
    procedure_title: string;
    crews: number;
    asked_at: string | null;
  };
  work: {
    pipe: string | null;
    size: string | null;
    ratio: number | null;
    material: string;
    grade: string | null;
    year: number | null;
    street: string | null;
    tier: string | null;
    says: string;
    from_station_m: number;
    to_station_m: number;
    node: string | null;
    pieces: ({
      pipe: string;
      from_station_m: number;
      to_station_m: number;
    })[];
    x_m: number;
    y_m: number;
    lon: number | null;
    lat: number | null;
    away_m: number;
    maop_pa_gauge: number | null;
    pressure_pa_gauge: number | null;
  };
  plans: ({
    rank: number;
    cost_crew_s: number;
    must_not_lose: number;
    time_to_stop_s: number | null;
    shutoffs: ({
      pipe: string | null;
      size?: string | null;
      ratio?: number | null;
      material?: string;
      grade?: string | null;
      year?: number | null;
      street?: string | null;
      tier?: string | null;
      id: string;
      kind: "squeeze" | "valve" | "regulator_outlet" | "source_outlet" | "placed";
      element: string;
      says: string;
      station_m: number | null;
      depth_m?: number | null;
      surface?: string | null;
      window_m?: (number)[];
      clearance_m?: number;
      double?: boolean | null;
      lon: number | null;
      lat: number | null;
      x_m: number;
      y_m: number;
      pressure_pa_gauge: number | null;
      crew_s: number;
      time_to_shut_s: number | null;
      offsets: ({
        from: string;
        distance_m: number;
        toward: string | null;
      })[];
      nearby: ({
        pipe: string | null;
        size: string | null;
        ratio: number | null;
        material: string;
        grade: string | null;
        year: number | null;
        street: string | null;
        tier: string | null;
        distance_m: number;
      })[];
      if_it_fails: {
        says: string;
        exists: boolean;
        spare_station_m: number | null;
        adds_customers: number | null;
        shut_instead: ({
          kind: string;
          says: string;
          pipe: string | null;
          station_m: number | null;
        })[];
      };
      squeeze: Record<string, unknown> | null;
      findings: ({
        rule: string;
        grade: "halt" | "undecided" | "warn" | "info";
        says: string;
        quantity: string;
        value_si: number | null;
        limit_si: number | null;
        unit_si: string;
        source: string;
        evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
        action: string;
        about: string;
        decides: "person_in_charge" | "engineer" | "gas_control";
      })[];
      means?: "plug" | "bag" | "cap" | "other shut-off";
    })[];
    customers_out: ({
      id: string;
      street: string | null;
      pipe: string;
      station_m: number;
      must_not_lose: boolean;
      why_not: string | null;
      cause: "isolated" | "pocket" | "short";
    })[];
    must_not_lose_out: (string)[];
    outcome: "solved" | "cannot_carry";
    lowest_pressure: unknown;
    highest_pressure: unknown;
    limit_temperature_k: number | null;
    limit_temperature_says: string | null;
    isolated: {
      length_m: number;
      volume_m3: number;
      gas_held_std_m3: number;
      base: {
        pa_abs: number;
        k: number;
      };
      pieces: ({
        pipe: string;
        from_station_m: number;
        to_station_m: number;
      })[];
      equipment: ({
        kind: "regulator_inlet" | "regulator_outlet" | "sensing_tap" | "source" | "valve" | "relief" | "telemetry" | "control_line" | "stub" | "excess_flow_valve";
        id: string;
        pipe: string | null;
        station_m: number | null;
        says: string;
      })[];
    };
    why: string;
    beats_next: string;
    findings: ({
      rule: string;
      grade: "halt" | "undecided" | "warn" | "info";
      says: string;
      quantity: string;
      value_si: number | null;
      limit_si: number | null;
      unit_si: string;
      source: string;
      evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
      action: string;
      about: string;
      decides: "person_in_charge" | "engineer" | "gas_control";
    })[];
    proof: {
      optimal: boolean;
      examined: number;
      solved: number;
      bound: number | null;
      bound_must_not_lose: number | null;
    };
    hole: {
      length_m: number | null;
      places: ({
        shutoff: string;
        kind: "squeeze" | "vent" | "spare";
        pipe: string;
        station_m: number;
        at_m: number;
      })[];
      sides: ({
        shutoff: string;
        pipe: string;
        work_at: "higher_stations" | "lower_stations";
        joint_station_m: number | null;
        od_m: number;
        clearance_m: number;
        apart_m: number;
        half_width_m: number | null;
        tool: string | null;
        depth_m: number | null;
        width_m: number | null;
        options: ({
          squeezes: 1 | 2;
          length_m: number | null;
          seen_length_m: number;
          fits: boolean;
          spare: boolean;
          places: ({
            kind: "squeeze" | "vent" | "spare";
            station_m: number;
            at_m: number;
          })[];
        })[];
      })[];
      excavations: ({
        pipe: string;
        shutoffs: (string)[];
        from_station_m: number;
        to_station_m: number;
        length_m: number;
      })[];
      working_room_m: number | null;
      beside_m: number | null;
      below_m: number | null;
      bench_m: number | null;
      tools_needed: number;
      tools_needed_least: number;
      tools_owned: number | null;
      tools_on_truck: number | null;
      pumps_needed: number;
      pumps_owned: number | null;
      pumps_on_truck: number | null;
      kit: ({
        item: "tool" | "stop" | "pump";
        id: string;
        tool: string | null;
        needed: number;
        needed_least: number;
        owned: number | null;
        on_truck: number | null;
      })[];
    };
    order: {
      id: string;
      title: string;
      closing: (string)[];
      opening: (string)[];
      because: string | null;
      bypass: boolean;
    };
    posts: ({
      id: string;
      kind: "shutoff" | "regulator" | "low_point" | "other";
      role: string;
      place: string;
      element: string;
      why: string;
    })[];
    gauge_points: ({
      id: string;
      kind: "live_side" | "part_side" | "regulator_inlet" | "regulator_outlet" | "low_point";
      at: string;
      shutoff: string | null;
      regulator: string | null;
      tier: string | null;
      node: string | null;
      pipe: string | null;
      station_m: number | null;
      toward: number;
      customer: string | null;
      post: string;
    })[];
    steps: ({
      id: string;
      kind: "clear_area" | "report" | "identify" | "readings" | "dig" | "gauges_on" | "meters_shut" | "bypass_none" | "bypass_made" | "bypass_tested" | "bypass_purged" | "bypass_flowing" | "post" | "prepare_tool" | "ground_wet" | "set_tool" | "shut" | "second_squeeze" | "locks_on" | "hoses_off" | "hold_watch" | "vent_down" | "let_by_watch" | "cut" | "join" | "test" | "tie_in" | "purge" | "soap" | "equalise" | "open" | "bypass_off" | "reround" | "look" | "mark" | "reinforce" | "tracer" | "relight" | "stand_down" | "as_laid" | "tool_care" | "other";
      does: string;
      precondition: string | null;
      after: (string)[];
      post: {
        id: string | null;
        role: string;
        place: string;
      };
      about: string | null;
      gauges: ({
        point: string;
        at: string;
        range_pa_gauge: number | null;
        expect_pa_gauge: number | null;
        expect_least_pa_gauge: number | null;
        expect_most_pa_gauge: number | null;
        low_pa_gauge: number | null;
        high_pa_gauge: number | null;
        every_s: number | null;
        how_often: string;
        to: string;
        post: string;
      })[];
      if_not: string;
      report_to: string;
      undo_s: number | null;
      time_left_s: number | null;
      point_of_no_return: boolean;
      hold_point: boolean;
      names_needed: number;
      gas_left: number | null;
      tool_rows: ({
        tool: string;
        says: string;
        source: string;
      })[];
      source: string;
      evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
      findings: ({
        rule: string;
        grade: "halt" | "undecided" | "warn" | "info";
        says: string;
        quantity: string;
        value_si: number | null;
        limit_si: number | null;
        unit_si: string;
        source: string;
        evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
        action: string;
        about: string;
        decides: "person_in_charge" | "engineer" | "gas_control";
      })[];
      watch: {
        asks: "fed_elsewhere" | "shut_off_tight";
        asks_in_words: string;
        volume_m3: number;
        pressure_pa_gauge: number | null;
        draw_std_m3_per_s: (number)[];
        gauge_step_pa_diff: number | null;
        least_s: number | null;
        time_left_s: number | null;
        says: string | null;
        not_concluded: (string)[];
        assumed: (string)[];
      } | null;
      numbers: (string)[];
    })[];
    putting_back: {
      test: {
        least_pa_gauge: number | null;
        least_by: string;
        most_pa_gauge: number | null;
        most_by: string;
        fill_pa_gauge: number | null;
        duration_needed_s: number | null;
        keep_off_m: number | null;
      } | null;
      join: {
        heater_least_k: number | null;
        heater_most_k: number | null;
        force_least_n: number | null;
        force_most_n: number | null;
        bead_m: number | null;
        removal_s: number | null;
        cooling_s: number | null;
      } | null;
      purge: {
        legs: ({
          feed: "bypass" | "rider" | "valve" | "squeeze" | "filled";
          end: string | null;
          from: string;
          vent: string;
          runs: ({
            pipe: string;
            from_station_m: number | null;
            to_station_m: number | null;
            bore_m: number | null;
          })[];
          length_m: number | null;
          volume_m3: number | null;
          bore_m: number | null;
          speed_m_per_s: number | null;
          flow_m3_per_s: number | null;
          time_s: number | null;
          time_planned_s: number | null;
          mixing_m: number | null;
          flammable_m: number | null;
          slug_gas_std_m3: number | null;
          gas_used_std_m3: number | null;
          gas_lost_std_m3: number | null;
          foot_pa_gauge: number | null;
          inlet_pa_gauge: number | null;
          before_pa_gauge: number | null;
          purging_pa_gauge: number | null;
          short_of_gas: (string)[];
        })[];
        services: ({
          customer: string;
          street: string | null;
          pipe: string;
          station_m: number | null;
          away_m: number | null;
          excess_flow_valve: "no" | "yes" | "unknown";
        })[];
        volume_m3: number | null;
        says: string;
        cautions: (string)[];
        time_planned_s?: number | null;
      };
      excess_flow_valves: (string)[];
      excess_flow_not_known: (string)[];
      decide: (string)[];
    };
  })[];
  proof: {
    optimal: boolean;
    examined: number;
    solved: number;
    bound: number | null;
    bound_must_not_lose: number | null;
  };
  passed_over: ({
    element: string;
    why: string;
  })[];
  map: {
    crs: string;
    box_m: (number)[];
    lines: ({
      pipe: string;
      size: string | null;
      bore_m: number | null;
      length_m: number;
      tier: string | null;
      material: string;
      street: string | null;
      xy_m: (number)[];
    })[];
    backdrop: ({
      kind: string;
      says: string | null;
      xy_m: (number)[];
    })[];
    points: ({
      kind: "source" | "regulator" | "sensing_tap" | "valve" | "must_not_lose" | "customer_out" | "earlier_squeeze" | "fixed_point";
      id: string;
      x_m: number;
      y_m: number;
      says: string | null;
    })[];
  };
  front: ({
    rank: number | null;
    time_to_stop_s: number | null;
    customers_out: (string)[];
    must_not_lose_out: (string)[];
    shutoffs: ({
      id: string;
      kind: string;
      element: string;
      says: string;
      pipe: string | null;
      station_m: number | null;
      time_to_shut_s: number | null;
      if_it_fails: {
        says: string;
        exists: boolean;
        spare_station_m: number | null;
        adds_customers: number | null;
        shut_instead: ({
          kind: string;
          says: string;
          pipe: string | null;
          station_m: number | null;
        })[];
      };
    })[];
    stages: ({
      holds_at_s: number;
      shut: (string)[];
      opened: (string)[];
      customers_out: (string)[];
    })[];
    verdict: string;
    findings: ({
      rule: string;
      grade: "halt" | "undecided" | "warn" | "info";
      says: string;
      quantity: string;
      value_si: number | null;
      limit_si: number | null;
      unit_si: string;
      source: string;
      evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
      action: string;
      about: string;
      decides: "person_in_charge" | "engineer" | "gas_control";
    })[];
  })[];
  front_proof: {
    complete: boolean;
    examined: number;
    solved: number;
  } | null;
  feeds: {
    sides: ({
      pipe: string | null;
      toward: string | null;
      fed: boolean;
      feeds: ({
        source: string;
        regulators: (string)[];
        backwards: (string)[];
        valves: (string)[];
        length_m: number;
      })[];
    })[];
    fed_sides: number;
    sources: (string)[];
  };
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface RelightRequest {
  question: "relight";
  network: string;
  units?: "us" | "metric";
  plan?: string | Record<string, unknown>;
  rank?: number;
  time_left?: string | Record<string, unknown>;
  shut?: string;
  walked?: (string)[];
  found?: (string)[];
  sector?: (string)[];
  technicians?: number;
  rate?: string;
  revisits?: string | number;
  pressure?: string;
  pressure_pa_gauge?: number;
  gauge_step?: string;
  gauge_step_pa_diff?: number;
  steps?: number;
  gauge_range?: string;
  gauge_range_pa_gauge?: (number)[];
  draw?: string;
  draw_std_m3_per_s?: (number)[];
  readings?: (string | Record<string, unknown>)[];
  readings_table?: string;
  barometer_drift?: string;
  barometer_drift_pa_diff?: number;
  barometer_drift_pa_per_s?: number;
  temperature_drift?: string;
  temperature_drift_k_diff?: number;
  temperature_drift_k_per_s?: number;
  within?: string;
  within_s?: number;
  volume?: string;
  volume_m3?: number;
  temperature?: string;
  temperature_k?: number;
  hour?: number;
  ground_temperature?: string;
  ground_temperature_k?: number;
  gravity?: number;
  law?: "general" | "fuel_gas_code";
  procedure?: string | Record<string, unknown>;
}

export interface RelightReply {
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  question: "relight";
  procedure: string;
  plan: {
    plan_id: string;
    rank: number;
  } | null;
  sector: {
    names: (string)[];
    others: number;
    volume_m3: number | null;
  };
  affected: number;
  shut: {
    listed: number;
    same: boolean;
    not_shut: (string)[];
    not_affected: (string)[];
    curb: number;
    locked: number;
    relit: number;
  } | null;
  hold: {
    says: string;
    not_concluded: (string)[];
    watch_s: number | null;
    watched_s: number | null;
    needle: "too_soon" | "held" | "fell" | "rose" | "moved" | "both_ways" | null;
  } | null;
  technicians: number | null;
  rate: {
    low: number;
    expected: number;
    high: number;
  } | null;
  revisit_share: number | null;
  visits_needed: number;
  shutting: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  } | null;
  first_ones: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  } | null;
  all: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  } | null;
  visits: ({
    position: number;
    round: number;
    place: number;
    id: string;
    street: string | null;
    pipe: string | null;
    station_m: number | null;
    along_m: number | null;
    must_not_lose: boolean;
    why_not: string | null;
    cause: "isolated" | "pocket" | "short" | "dipped" | "found";
    excess_flow_valve: boolean | null;
    done: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    } | null;
    listed: {
      how: "meter" | "curb" | "locked" | "relit";
      time: string | null;
      by: string | null;
    } | null;
  })[];
  lit: ({
    id: string;
    how: "relit";
    time: string | null;
    by: string | null;
  })[];
  streets: ({
    name: string | null;
    meters: number;
    walked: boolean;
  })[];
  cautions: (string)[];
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface TimelineRequest {
  question: "timeline";
  network: string;
  units?: "us" | "metric";
  plan: string | Record<string, unknown>;
  rank?: number;
  crews?: number;
  technicians?: number;
  rate?: string;
  revisits?: string | number;
  authority?: string;
  temperature?: string;
  temperature_k?: number;
  hour?: number;
  ground_temperature?: string;
  ground_temperature_k?: number;
  gravity?: number;
  law?: "general" | "fuel_gas_code";
  procedure?: string | Record<string, unknown>;
}

export interface TimelineReply {
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  units: "us" | "metric";
  question: "timeline";
  procedure: string;
  plan: {
    plan_id: string;
    rank: number;
  };
  authority: string | null;
  says: string;
  kind: "planned" | "emergency";
  crews: number;
  technicians: number | null;
  lasts: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  };
  stopped: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  } | null;
  stopped_known: boolean;
  restored: {
    shortest_s: number;
    expected_s: number;
    longest_s: number;
  } | null;
  customers: number;
  customer_hours: {
    shortest: number;
    expected: number;
    longest: number;
  } | null;
  crew_s: number | null;
  steps: ({
    id: string;
    kind: string;
    does: string | null;
    about: string | null;
    role: string | null;
    hold_point: boolean;
    point_of_no_return: boolean;
    begins: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    };
    ends: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    };
    known: boolean;
    crew: number | null;
    critical: boolean;
    waits_for: string | null;
  })[];
  outages: ({
    id: string;
    street: string | null;
    must_not_lose: boolean;
    why_not: string | null;
    cause: "isolated" | "pocket" | "short" | "dipped" | "found";
    lost_s: number;
    back_s: number;
    lasts: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    };
  })[];
  savings: ({
    by: string;
    lasts_s: number;
    stopped_s: number;
    customer_hours: number | null;
    customers: number;
    says: string;
  })[];
  plans: ({
    rank: number;
    real_rank: number | null;
    must_not_lose: number;
    customers: number;
    lasts: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    };
    stopped: {
      shortest_s: number;
      expected_s: number;
      longest_s: number;
    } | null;
    stopped_known: boolean;
    customer_hours: {
      shortest: number;
      expected: number;
      longest: number;
    } | null;
    crew_s: number | null;
  })[];
  gas: {
    vented_std_m3: number | null;
    purged_std_m3: number | null;
    base: {
      pa_abs: number;
      k: number;
    };
    methane_kg: number | null;
    co2e_kg: number | null;
  };
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}

export interface JoinRequest {
  question: "join";
  units?: "us" | "metric";
  kind?: "butt" | "electrofusion" | "mechanical";
  size: string;
  dr?: number | string;
  sdr?: number | string;
  wall?: string | (string)[];
  wall_m?: number | (number)[];
  material?: string;
  other_material?: string;
  piston?: string;
  piston_m2?: number;
  drag?: string;
  drag_pa_diff?: number;
  ambient?: string;
  ambient_k?: number;
  heater?: string;
  heater_k?: number;
  procedure?: string | Record<string, unknown>;
}

export interface JoinReply {
  question: "join";
  units: "us" | "metric";
  engine: string;
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  findings: ({
    rule: string;
    grade: "halt" | "undecided" | "warn" | "info";
    says: string;
    quantity: string;
    value_si: number | null;
    limit_si: number | null;
    unit_si: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
    action: string;
    about: string;
    decides: "person_in_charge" | "engineer" | "gas_control";
  })[];
  assumed: (string)[];
  profile: {
    id: string;
    title: string;
  };
  says: string;
  cautions: (string)[];
  kind: "butt" | "electrofusion" | "mechanical";
  pipe: {
    size: string;
    ratio: number | null;
    material: string | null;
    other_material: string | null;
  };
  wall_least_m: number | null;
  wall_most_m: number | null;
  piston_m2: number | null;
  drag_pa_diff: number | null;
  ambient_k: number | null;
  heater_k: number | null;
  area_least_m2: number | null;
  area_most_m2: number | null;
  force_least_n: number | null;
  force_most_n: number | null;
  gauge_least_pa_gauge: number | null;
  gauge_most_pa_gauge: number | null;
  heater_least_k: number | null;
  heater_most_k: number | null;
  bead_m: number | null;
  soak_s: number | null;
  removal_s: number | null;
  cooling_s: number | null;
  decides: ("person_in_charge" | "engineer" | "gas_control")[];
}
