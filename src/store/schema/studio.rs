//! Tables of rooms, hours, stations and containers.

diesel::table! {
    studio (id) {
        id -> Text,
        name -> Text,
        room_address -> Text,
        eyewash -> Text,
        emergency_numbers -> Text,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    opening (id) {
        id -> Text,
        studio_id -> Text,
        weekday -> Integer,
        from_minute -> Integer,
        to_minute -> Integer,
    }
}

diesel::table! {
    closure (id) {
        id -> Text,
        studio_id -> Text,
        day -> Date,
        reason -> Text,
    }
}

diesel::table! {
    extra_opening (id) {
        id -> Text,
        studio_id -> Text,
        day -> Date,
        from_minute -> Integer,
        to_minute -> Integer,
        reason -> Text,
    }
}

diesel::table! {
    station (id) {
        id -> Text,
        studio_id -> Text,
        kind -> Text,
        name -> Text,
        units -> Integer,
        position -> Integer,
        version -> BigInt,
    }
}

diesel::table! {
    station_down (id) {
        id -> Text,
        station_id -> Text,
        unit -> Integer,
        from_at -> BigInt,
        to_at -> Nullable<BigInt>,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        ended_at -> Nullable<BigInt>,
        ended_by -> Nullable<Text>,
    }
}

diesel::table! {
    container (id) {
        id -> Text,
        studio_id -> Text,
        letter -> Text,
        number -> Integer,
        substance -> Text,
        label -> Text,
        opened -> Date,
        baume_tenths -> Nullable<Integer>,
        ph_hundredths -> Nullable<Integer>,
        weight_bp -> Nullable<Integer>,
        drops_per_ml_hundredths -> Nullable<Integer>,
        drops_spread_hundredths -> Nullable<Integer>,
        discard -> Nullable<Date>,
        sour -> Bool,
        do_not_use -> Nullable<Text>,
        note -> Text,
        finished_at -> Nullable<BigInt>,
        created_at -> BigInt,
        version -> BigInt,
    }
}
