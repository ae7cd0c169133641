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
  source: "closed_form";
  band_method: string;
  prompts: ({
    says: string;
    source: string;
    evidence: "seen" | "from_memory" | "derived" | "common_practice" | "company" | "maker" | "entered";
  })[];
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
  })[];
  assumed: (string)[];
  verdict: "halt" | "undecided" | "warn" | "info" | "nothing_found";
  engine: string;
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
}
