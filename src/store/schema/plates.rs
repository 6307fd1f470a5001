//! Tables of procedures, projects, prints, plates and the steps done on them.

diesel::table! {
    procedure (id) {
        id -> Text,
        class_id -> Nullable<Text>,
        name -> Text,
        surface -> Text,
        created_at -> BigInt,
    }
}

diesel::table! {
    procedure_version (id) {
        id -> Text,
        procedure_id -> Text,
        number -> Integer,
        body -> Text,
        by_id -> Nullable<Text>,
        created_at -> BigInt,
    }
}

diesel::table! {
    procedure_draft (procedure_id) {
        procedure_id -> Text,
        class_id -> Text,
        body -> Text,
        by_id -> Text,
        at -> BigInt,
        version -> BigInt,
        discarded_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    procedure_picture (id) {
        id -> Text,
        class_id -> Text,
        width -> Integer,
        height -> Integer,
        bytes -> BigInt,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    project (id) {
        id -> Text,
        class_id -> Text,
        position -> Integer,
        title -> Text,
        brief -> Text,
        due_local -> Text,
        edition_asked -> Integer,
        procedure_id -> Text,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    own_due (id) {
        id -> Text,
        project_id -> Text,
        person_id -> Text,
        due_local -> Text,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        superseded_at -> Nullable<BigInt>,
        accommodation_id -> Nullable<Text>,
    }
}

diesel::table! {
    due_move (id) {
        id -> Text,
        project_id -> Text,
        from_local -> Text,
        to_local -> Text,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    print (id) {
        id -> Text,
        class_id -> Text,
        project_id -> Text,
        person_id -> Text,
        title -> Text,
        edition_size -> Nullable<Integer>,
        handed_in_at -> Nullable<BigInt>,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    plate (id) {
        id -> Text,
        class_id -> Text,
        print_id -> Text,
        person_id -> Text,
        procedure_version_id -> Text,
        number -> Integer,
        position -> Integer,
        surface -> Text,
        width_hundredths -> Integer,
        height_hundredths -> Integer,
        size_unit -> Text,
        materials -> Text,
        weight -> Text,
        replaces_id -> Nullable<Text>,
        standing -> Text,
        standing_since -> BigInt,
        gummed_at -> Nullable<BigInt>,
        rack_place -> Text,
        note -> Text,
        created_at -> BigInt,
        version -> BigInt,
    }
}

diesel::table! {
    step_run (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        step_key -> Text,
        began_at -> BigInt,
        ended_at -> Nullable<BigInt>,
        by_id -> Text,
        received_at -> BigInt,
        known_how -> Text,
        outside_rules -> Text,
        settled_at -> Nullable<BigInt>,
        settled_by -> Nullable<Text>,
        settlement -> Nullable<Text>,
        settled_reason -> Nullable<Text>,
        sheets -> Nullable<Integer>,
        note -> Text,
        clock_off_ms -> Nullable<BigInt>,
        clock_doubtful -> Bool,
        planned_seconds -> Text,
        in_room -> Text,
        on_tablet -> Bool,
    }
}

diesel::table! {
    second_account (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        step_run_id -> Text,
        by_id -> Text,
        began_at -> BigInt,
        ended_at -> BigInt,
        received_at -> BigInt,
        left_off -> Bool,
        clock_doubtful -> Bool,
        in_room -> Text,
        sheets -> Nullable<Integer>,
        note -> Text,
        recipe -> Nullable<Text>,
        gum_id -> Nullable<Text>,
        gum_microlitres -> Nullable<BigInt>,
        acid_id -> Nullable<Text>,
        drops -> Nullable<Integer>,
        stock_id -> Nullable<Text>,
        stock_microlitres -> Nullable<BigInt>,
        measured_ph_hundredths -> Nullable<Integer>,
        application_seconds -> Text,
        tool -> Text,
        helper -> Text,
        seen -> Text,
    }
}

diesel::table! {
    refusal (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        person_id -> Text,
        step_key -> Text,
        rules -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    allowance (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        step_key -> Text,
        reason -> Text,
        given_by -> Text,
        given_at -> BigInt,
        used_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    sitting (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        began_at -> BigInt,
        ended_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    put_down (id) {
        id -> Text,
        class_id -> Text,
        plate_id -> Text,
        sitting_id -> Nullable<Text>,
        by_id -> Text,
        at -> BigInt,
        gummed -> Bool,
        buffed -> Bool,
        talc -> Bool,
        rack_place -> Text,
    }
}
