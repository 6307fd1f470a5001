//! Tables of rooms, hours, stations and containers.

diesel::table! {
    studio (id) {
        id -> Text,
        name -> Text,
        room_address -> Text,
        eyewash -> Text,
        emergency_numbers -> Text,
        waste_words -> Text,
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
    data_sheet (id) {
        id -> Text,
        studio_id -> Text,
        replaces_id -> Nullable<Text>,
        substance -> Text,
        product -> Text,
        supplier -> Text,
        revised -> Date,
        signal -> Text,
        hazards -> Text,
        pictograms -> Text,
        file_name -> Text,
        file_sha256 -> Text,
        file_bytes -> BigInt,
        by_id -> Text,
        at -> BigInt,
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
        data_sheet_id -> Nullable<Text>,
        finished_at -> Nullable<BigInt>,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    weighing (id) {
        id -> Text,
        container_id -> Text,
        drops -> Integer,
        milligrams -> BigInt,
        weight_bp -> Integer,
        drops_per_ml_hundredths -> Integer,
        drops_spread_hundredths -> Integer,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    called_off (id) {
        id -> Text,
        class_id -> Nullable<Text>,
        studio_id -> Nullable<Text>,
        person_id -> Nullable<Text>,
        weekday -> Nullable<Integer>,
        day -> Nullable<Date>,
        from_minute -> Integer,
        to_minute -> Integer,
        at -> BigInt,
    }
}

diesel::table! {
    tablet (id) {
        id -> Text,
        studio_id -> Text,
        name -> Text,
        secret_hash -> Text,
        secret_until -> BigInt,
        token_hash -> Nullable<Text>,
        made_by -> Text,
        made_at -> BigInt,
        opened_at -> Nullable<BigInt>,
        withdrawn_at -> Nullable<BigInt>,
    }
}
