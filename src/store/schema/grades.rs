//! Tables of grading schemes, categories, assessments, scores and submitted grades.

diesel::table! {
    grading_scheme (class_id) {
        class_id -> Text,
        late_bp -> Integer,
        late_of -> Text,
        late_max_days -> Nullable<Integer>,
        grace_minutes -> Integer,
        missing_counts_zero -> Bool,
        rounding_places -> Integer,
        ties -> Text,
        scale -> Text,
        version -> BigInt,
    }
}

diesel::table! {
    category (id) {
        id -> Text,
        class_id -> Text,
        position -> Integer,
        title -> Text,
        weight_bp -> Integer,
        drop_lowest -> Integer,
        version -> BigInt,
    }
}

diesel::table! {
    assessment (id) {
        id -> Text,
        class_id -> Text,
        category_id -> Text,
        project_id -> Nullable<Text>,
        position -> Integer,
        title -> Text,
        points_hundredths -> BigInt,
        extra_credit -> Bool,
        version -> BigInt,
    }
}

diesel::table! {
    score (id) {
        id -> Text,
        class_id -> Text,
        assessment_id -> Text,
        person_id -> Text,
        print_id -> Nullable<Text>,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        status -> Text,
        points_hundredths -> Nullable<BigInt>,
        words -> Text,
        reason -> Text,
        by_id -> Text,
        at -> BigInt,
        handed_back_at -> Nullable<BigInt>,
        own_points_reason -> Text,
    }
}

diesel::table! {
    criterion (id) {
        id -> Text,
        class_id -> Text,
        position -> Integer,
        title -> Text,
        about -> Text,
        version -> BigInt,
        removed_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    criterion_level (criterion_id, position) {
        criterion_id -> Text,
        position -> Integer,
        title -> Text,
        descriptor -> Text,
        share_bp -> Integer,
    }
}

diesel::table! {
    assessment_criterion (assessment_id, criterion_id) {
        assessment_id -> Text,
        criterion_id -> Text,
        position -> Integer,
        points_hundredths -> BigInt,
    }
}

diesel::table! {
    score_level (score_id, criterion_id) {
        score_id -> Text,
        criterion_id -> Text,
        position -> Integer,
        criterion_title -> Text,
        level_position -> Nullable<Integer>,
        level_title -> Text,
        descriptor -> Text,
        points_hundredths -> Nullable<BigInt>,
        of_hundredths -> BigInt,
        words -> Text,
    }
}

diesel::table! {
    second_look (id) {
        id -> Text,
        class_id -> Text,
        score_id -> Text,
        person_id -> Text,
        reason -> Text,
        asked_at -> BigInt,
        answered_at -> Nullable<BigInt>,
        answered_by -> Nullable<Text>,
        answer -> Text,
        new_score_id -> Nullable<Text>,
    }
}

diesel::table! {
    critique (id) {
        id -> Text,
        class_id -> Text,
        project_id -> Text,
        held_on -> Date,
        by_id -> Text,
        begun_at -> BigInt,
        handed_back_at -> Nullable<BigInt>,
        version -> BigInt,
    }
}

diesel::table! {
    critique_note (critique_id, print_id) {
        critique_id -> Text,
        print_id -> Text,
        position -> Integer,
        words -> Text,
        by_id -> Nullable<Text>,
    }
}

diesel::table! {
    uncounted_day (class_id, day) {
        class_id -> Text,
        day -> Date,
        why -> Text,
    }
}

diesel::table! {
    goal (id) {
        id -> Text,
        class_id -> Text,
        position -> Integer,
        title -> Text,
        version -> BigInt,
        removed_at -> Nullable<BigInt>,
    }
}

diesel::table! {
    goal_criterion (goal_id, criterion_id) {
        goal_id -> Text,
        criterion_id -> Text,
    }
}

diesel::table! {
    second_marking (id) {
        id -> Text,
        class_id -> Text,
        assessment_id -> Text,
        share_percent -> Integer,
        seed -> BigInt,
        first_id -> Text,
        second_id -> Text,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    second_marking_choice (second_marking_id, person_id) {
        second_marking_id -> Text,
        person_id -> Text,
        position -> Integer,
    }
}

diesel::table! {
    blind_mark (id) {
        id -> Text,
        class_id -> Text,
        second_marking_id -> Text,
        person_id -> Text,
        points_hundredths -> BigInt,
        levels -> Text,
        words -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        by_id -> Text,
        at -> BigInt,
    }
}

diesel::table! {
    submitted_grade (id) {
        id -> Text,
        class_id -> Text,
        person_id -> Text,
        root -> Text,
        corrects -> Nullable<Text>,
        superseded_at -> Nullable<BigInt>,
        how -> Text,
        listing -> Text,
        basis -> Text,
        letter -> Text,
        rounded -> Nullable<Text>,
        percent -> Nullable<Text>,
        evidence -> Text,
        working -> Text,
        remains -> Text,
        open_until -> Nullable<Date>,
        lapses_to -> Nullable<Text>,
        last_day -> Nullable<Date>,
        last_deed -> Nullable<Text>,
        reason -> Text,
        by_id -> Nullable<Text>,
        at -> BigInt,
    }
}

diesel::table! {
    attainment (class_id, position) {
        class_id -> Text,
        position -> Integer,
        goal_id -> Text,
        goal_title -> Text,
        criterion_id -> Nullable<Text>,
        criterion_title -> Text,
        far -> Nullable<Integer>,
        there -> Nullable<Integer>,
        near -> Nullable<Integer>,
        not_yet -> Nullable<Integer>,
        students -> Nullable<Integer>,
        settled_at -> BigInt,
    }
}
