tierproof_tests(NAME units ROOMS units
  SOURCES
    units/share_test.cpp
    units/temperature_test.cpp
    units/time_test.cpp)
tierproof_tests(NAME text ROOMS text
  SOURCES
    checks/rfc8785_test.cpp
    text/canonical_test.cpp
    text/csv_test.cpp
    text/fields_test.cpp
    text/json_gate_test.cpp
    text/json_writer_test.cpp
    text/number_test.cpp)
tierproof_tests(NAME sums ROOMS sums LIBRARIES GSL::gsl
  SOURCES
    sums/additive_text_test.cpp
    sums/address_test.cpp
    sums/composition_test.cpp
    sums/cooling_step_test.cpp
    sums/cooling_test.cpp
    sums/cross_contact_test.cpp
    sums/date_mark_test.cpp
    sums/declaration_check_packs_test.cpp
    sums/declaration_check_test.cpp
    sums/declaration_properties_test.cpp
    sums/declaration_test.cpp
    sums/energy_test.cpp
    sums/freezing_test.cpp
    sums/gs1_test.cpp
    sums/heat_build_up_test.cpp
    sums/heat_integral_test.cpp
    sums/heat_test.cpp
    sums/judge_names_test.cpp
    sums/label_forms_test.cpp
    sums/label_list_test.cpp
    sums/languages_test.cpp
    sums/log_sums_test.cpp
    sums/named_quantities_test.cpp
    sums/net_quantity_test.cpp
    sums/nutrition_need_test.cpp
    sums/nutrition_rounding_test.cpp
    sums/part_lists_test.cpp
    sums/plain_checks_test.cpp
    sums/probe_test.cpp
    sums/quantity_test.cpp
    sums/reference_dose_test.cpp
    sums/retention_test.cpp
    sums/shelf_life_test.cpp
    sums/small_package_test.cpp
    sums/statements_test.cpp
    sums/stay_test.cpp
    sums/troubles_test.cpp
    sums/type_size_test.cpp
    sums/why_test.cpp)
tierproof_tests(NAME checks SHARDS 3 ROOMS sums rules text
  SOURCES
    checks/additives_abroad_test.cpp
    checks/allergens_abroad_test.cpp
    checks/figures_abroad_test.cpp
    checks/gb_terms_test.cpp
    checks/name_hints_test.cpp
    checks/labelling_cases_test.cpp
    checks/labelling_composition_cases_test.cpp
    checks/labelling_other_cases_test.cpp
    checks/made_up_country_test.cpp
    checks/retention_test.cpp
    checks/temperature_cases_test.cpp
    checks/temperature_dates_test.cpp
    checks/temperature_rows_test.cpp
    checks/temperature_tables_test.cpp
    checks/words_and_routes_abroad_test.cpp)
tierproof_tests(NAME label_cases SHARDS 3 ROOMS papers rules sums text
  SOURCES
    checks/additive_list_test.cpp
    checks/allergen_matrix_test.cpp
    checks/label_case.cpp
    checks/label_case_cake.cpp
    checks/label_case_lists.cpp
    checks/label_case_particulars.cpp
    checks/label_cases_test.cpp)
tierproof_tests(NAME label_rows ONLY plain ROOMS papers rules sums text
  SOURCES
    checks/label_case.cpp
    checks/label_case_cake.cpp
    checks/label_case_lists.cpp
    checks/label_case_particulars.cpp
    checks/label_rows_test.cpp)
tierproof_tests(NAME kitchen ROOMS kitchen
  SOURCES
    kitchen/bodies_test.cpp
    kitchen/edges_test.cpp
    kitchen/note_test.cpp
    kitchen/state_test.cpp)
tierproof_tests(NAME rules SHARDS 3 ROOMS rules LIBRARIES Poco::JSON Poco::Foundation
  SOURCES
    rules/checker_test.cpp
    rules/claims_test.cpp
    rules/name_hint_file_test.cpp
    rules/mechanisms_test.cpp
    rules/no_country_in_code_test.cpp
    rules/reader_test.cpp
    rules/reference_test.cpp
    rules/temperature_mechanisms_test.cpp)
tierproof_tests(NAME imports ROOMS imports
  SOURCES
    imports/column_map_test.cpp
    imports/dialects_test.cpp
    imports/logger_file_test.cpp
    imports/pack_text_test.cpp
    imports/plain_log_test.cpp)
tierproof_tests(NAME log ROOMS log
  SOURCES
    checks/merkle_test.cpp
    log/entry_test.cpp
    log/hash_test.cpp
    log/proof_test.cpp
    log/tree_test.cpp)
tierproof_tests(NAME store ROOMS store LIBRARIES SQLite::SQLite3
  SOURCES
    store/record_store_contract_test.cpp
    store/sqlite_crash_test.cpp
    store/sqlite_store_test.cpp)
tierproof_tests(NAME papers SHARDS 3 ROOMS papers LIBRARIES Poco::JSON Poco::Foundation PNG::PNG
  SOURCES
    papers/cake_papers_test.cpp
    papers/cake_record_test.cpp
    papers/chart_marks_test.cpp
    papers/chart_table_test.cpp
    papers/chart_test.cpp
    papers/decimate_test.cpp
    papers/codes_test.cpp
    papers/figures_test.cpp
    papers/font_test.cpp
    papers/golden_papers.cpp
    papers/golden_test.cpp
    papers/label_checks.cpp
    papers/label_forms_test.cpp
    papers/label_heights_test.cpp
    papers/label_pictures_test.cpp
    papers/label_sheets_test.cpp
    papers/label_test.cpp
    papers/layout_test.cpp
    papers/lines_test.cpp
    papers/outline_test.cpp
    papers/read_back_test.cpp
    papers/sample.cpp
    papers/sheet_test.cpp
    papers/small_labels_test.cpp
    papers/specimens_test.cpp
    papers/spreadsheet_test.cpp
    papers/stocks_test.cpp
    papers/writers_test.cpp)
tierproof_tests(NAME layering
  SOURCES
    layering_test.cpp)
tierproof_tests(NAME sample SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/sample_test.cpp)
tierproof_tests(NAME demo_once SHARDS 1 ONLY sanitized ROOMS text
  SOURCES
    demo/once_test.cpp)
tierproof_tests(NAME changed_demo SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/changed_demo_test.cpp)
tierproof_tests(NAME kill SHARDS 1 ROOMS text
  SOURCES
    cli/kill_test.cpp)
tierproof_tests(NAME cli ROOMS cli
  SOURCES
    cli/command_table_test.cpp
    cli/spec_test.cpp
    cli/sums_test.cpp)
tierproof_tests(NAME app SHARDS 8 ROOMS app LIBRARIES Poco::JSON Poco::Foundation
  SOURCES
    app/changing_test.cpp
    app/charts_test.cpp
    app/cooling_test.cpp
    app/coding_test.cpp
    app/erasing_test.cpp
    app/explaining_test.cpp
    app/going_wrong_test.cpp
    app/judging_test.cpp
    app/kitchen_day_test.cpp
    app/labels_test.cpp
    app/lists_test.cpp
    app/looking_test.cpp
    app/malformed_series_test.cpp
    app/ordering_test.cpp
    app/precautions_test.cpp
    app/readings_test.cpp
    app/reading_packs_test.cpp
    app/recording_test.cpp
    app/records_test.cpp
    app/taking_in_test.cpp
    app/thermometers_test.cpp
    app/releasing_test.cpp
    app/small_labels_test.cpp
    app/specimens_test.cpp
    app/stores_test.cpp
    app/whole_kitchen_test.cpp
    app/cake_papers_test.cpp)
tierproof_tests(NAME installed SHARDS 1 ROOMS text
  SOURCES
    demo/installed_test.cpp)
