//! Tables of etch logs, how each etch came up, and the etches a class goes by.

diesel::table! {
    etch (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        step_run_id -> Text,
        step_key -> Text,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        received_at -> BigInt,
        known_how -> Text,
        recipe -> Text,
        gum_id -> Nullable<Text>,
        gum_microlitres -> Nullable<BigInt>,
        gum_unit -> Nullable<Text>,
        acid_id -> Nullable<Text>,
        drops -> Nullable<Integer>,
        stock_id -> Nullable<Text>,
        stock_microlitres -> Nullable<BigInt>,
        gum_baume_tenths -> Nullable<Integer>,
        gum_ph_hundredths -> Nullable<Integer>,
        gum_sour -> Bool,
        acid_weight_bp -> Nullable<Integer>,
        acid_kind -> Nullable<Text>,
        drops_per_ml_hundredths -> Nullable<Integer>,
        drops_spread_hundredths -> Nullable<Integer>,
        measured_ph_hundredths -> Nullable<Integer>,
        tool -> Text,
        helper -> Text,
        seen -> Text,
        doubts -> Nullable<Text>,
    }
}

diesel::table! {
    etch_application (etch_id, position) {
        etch_id -> Text,
        position -> Integer,
        seconds -> Integer,
    }
}

diesel::table! {
    came_up (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        etch_root -> Text,
        step_run_id -> Nullable<Text>,
        how -> Text,
        note -> Text,
        by_id -> Text,
        at -> BigInt,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    etch_table_row (id) {
        id -> Text,
        class_id -> Text,
        version -> BigInt,
        position -> Integer,
        surface -> Text,
        weight -> Text,
        material -> Text,
        drops_hundredths -> Integer,
        applications -> Integer,
        seconds -> Integer,
        source -> Text,
        by_id -> Nullable<Text>,
        at -> BigInt,
        superseded_at -> Nullable<BigInt>,
    }
}
