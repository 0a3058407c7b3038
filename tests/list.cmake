tierproof_tests(NAME units BOTH SHARDS 1 ROOMS units
  SOURCES
    units/share_test.cpp
    units/temperature_test.cpp
    units/time_test.cpp)
tierproof_tests(NAME text SHARDS 1 ROOMS text LIBRARIES ${ICAL_LIBRARY}
  SOURCES
    checks/rfc8785_test.cpp
    text/canonical_test.cpp
    text/csv_test.cpp
    text/fields_test.cpp
    text/folded_words_test.cpp
    text/icalendar_test.cpp
    text/json_gate_test.cpp
    text/json_writer_test.cpp
    text/number_test.cpp
    text/table_figure_test.cpp)
tierproof_tests(NAME sums SHARDS 2 ROOMS sums LIBRARIES GSL::gsl ${ICAL_LIBRARY}
  SOURCES
    sums/additive_text_test.cpp
    sums/address_test.cpp
    sums/composition_test.cpp
    sums/cooling_step_test.cpp
    sums/cooling_test.cpp
    sums/core_step_test.cpp
    sums/cross_contact_test.cpp
    sums/date_mark_test.cpp
    sums/declaration_check_packs_test.cpp
    sums/declaration_check_test.cpp
    sums/declaration_properties_test.cpp
    sums/declaration_test.cpp
    sums/due_rrule_test.cpp
    sums/due_test.cpp
    sums/energy_test.cpp
    sums/freezing_test.cpp
    sums/gs1_scan_test.cpp
    sums/gs1_test.cpp
    sums/heat_build_up_test.cpp
    sums/heat_integral_test.cpp
    sums/heat_reference_test.cpp
    sums/heat_test.cpp
    sums/judge_names_test.cpp
    sums/label_forms_test.cpp
    sums/label_list_test.cpp
    sums/languages_test.cpp
    sums/log_sums_test.cpp
    sums/meringue_test.cpp
    sums/named_quantities_test.cpp
    sums/net_quantity_test.cpp
    sums/nutrition_need_test.cpp
    sums/nutrition_rounding_test.cpp
    sums/out_of_fridge_test.cpp
    sums/part_lists_test.cpp
    sums/plain_checks_test.cpp
    sums/plan_limits_test.cpp
    sums/probe_test.cpp
    sums/quantity_test.cpp
    sums/reference_dose_test.cpp
    sums/reheating_test.cpp
    sums/retention_test.cpp
    sums/screening_test.cpp
    sums/shelf_life_test.cpp
    sums/small_package_test.cpp
    sums/statements_test.cpp
    sums/stay_test.cpp
    sums/sugar_syrup_test.cpp
    sums/time_out_test.cpp
    sums/layers_test.cpp
    sums/trace_test.cpp
    sums/troubles_test.cpp
    sums/type_size_test.cpp
    sums/warm_times_test.cpp
    sums/water_activity_test.cpp
    sums/why_test.cpp
    sums/yields_and_tins_test.cpp)
tierproof_tests(NAME checks SHARDS 3 ROOMS sums rules text
  SOURCES
    checks/activity_tables_test.cpp
    checks/additives_abroad_test.cpp
    checks/allergens_abroad_test.cpp
    checks/figures_abroad_test.cpp
    checks/gb_terms_test.cpp
    checks/name_hints_test.cpp
    checks/labelling_cases_test.cpp
    checks/labelling_composition_cases_test.cpp
    checks/labelling_other_cases_test.cpp
    checks/low_activity_reference_test.cpp
    checks/made_up_country_test.cpp
    checks/physics_cases_test.cpp
    checks/physics_tables_test.cpp
    checks/retention_test.cpp
    checks/steam_oracle_test.cpp
    checks/temperature_cases_test.cpp
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
tierproof_tests(NAME kitchen SHARDS 1 ROOMS kitchen
  SOURCES
    kitchen/bodies_test.cpp
    kitchen/edges_test.cpp
    kitchen/evidence_test.cpp
    kitchen/note_test.cpp
    kitchen/regular_test.cpp
    kitchen/plan_bodies_test.cpp
    kitchen/state_test.cpp)
tierproof_tests(NAME rules SHARDS 3 ROOMS rules LIBRARIES Poco::JSON Poco::Foundation
  SOURCES
    rules/activity_mechanism_test.cpp
    rules/checker_test.cpp
    rules/claims_test.cpp
    rules/name_hint_file_test.cpp
    rules/plan_file_test.cpp
    rules/mechanisms_test.cpp
    rules/no_country_in_code_test.cpp
    rules/reader_test.cpp
    rules/reference_test.cpp
    rules/temperature_mechanisms_test.cpp)
tierproof_tests(NAME imports SHARDS 1 ROOMS imports
  SOURCES
    imports/column_map_test.cpp
    imports/dialects_test.cpp
    imports/epcis_check_test.cpp
    imports/file_type_test.cpp
    imports/logger_file_test.cpp
    imports/pack_text_test.cpp
    imports/plain_log_test.cpp)
tierproof_tests(NAME log SHARDS 1 ROOMS log
  SOURCES
    checks/merkle_test.cpp
    log/entry_test.cpp
    log/hash_test.cpp
    log/proof_test.cpp
    log/tree_test.cpp)
tierproof_tests(NAME store SHARDS 1 ROOMS store LIBRARIES SQLite::SQLite3
  SOURCES
    store/files_named_test.cpp
    store/record_store_contract_test.cpp
    store/sqlite_crash_test.cpp
    store/sqlite_store_test.cpp
    store/access_store_test.cpp)
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
    papers/trace_picture_test.cpp
    papers/writers_test.cpp)
tierproof_tests(NAME layering SHARDS 1
  SOURCES
    layering_test.cpp)
tierproof_tests(NAME sample SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/sample_test.cpp)
tierproof_tests(NAME demo_once SHARDS 1 ONLY sanitized ROOMS cli
  SOURCES
    cli/story_server.cpp
    demo/once_test.cpp)
tierproof_tests(NAME demo_year SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/year_test.cpp)
tierproof_tests(NAME changed_demo SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/changed_demo_test.cpp)
tierproof_tests(NAME kill BOTH SHARDS 1 ROOMS text
  SOURCES
    cli/kill_test.cpp)
# The pages in a real browser, as their users have them. The sanitizers look at the same code under `web`.
add_test(NAME browser.plain COMMAND ${CMAKE_SOURCE_DIR}/tests/browser/run $<TARGET_FILE:tierproof> ${CMAKE_BINARY_DIR})
set_tests_properties(browser.plain PROPERTIES LABELS plain TIMEOUT 1800 COST 2000)
tierproof_tests(NAME web SHARDS 2 ROOMS web LIBRARIES Poco::NetSSL Poco::Net Poco::JSON Poco::Foundation OpenSSL::Crypto
  SOURCES
    web/api_description_test.cpp
    web/attaching_test.cpp
    web/correcting_test.cpp
    web/gate_test.cpp
    web/html_test.cpp
    web/keeping_test.cpp
    web/kept_test.cpp
    web/looking_again_test.cpp
    web/may_contain_test.cpp
    web/plan_pages_test.cpp
    web/server_test.cpp
    web/site_test.cpp
    web/tls_test.cpp
    web/waiting_test.cpp)
tierproof_tests(NAME cli BOTH ROOMS cli
  SOURCES
    cli/command_table_test.cpp
    cli/spec_test.cpp
    cli/story_server.cpp
    cli/sums_test.cpp)
# What the shell of a story, and the demo, call under the sanitizers.
add_executable(story_caller tests/cli/story_caller.cpp)
tierproof_settings(story_caller plain)
target_include_directories(story_caller PRIVATE tests)
add_dependencies(cli_tests_plain story_caller)
if(TIERPROOF_SANITIZED)
  add_dependencies(cli_tests_sanitized story_caller)
  add_dependencies(demo_once_tests_sanitized story_caller)
endif()
tierproof_tests(NAME app SHARDS 8 ROOMS app LIBRARIES Poco::JSON Poco::Foundation date::date-tz ${ICAL_LIBRARY}
  SOURCES
    app/adopting_test.cpp
    app/attaching_test.cpp
    app/advising_test.cpp
    app/changing_test.cpp
    app/charts_test.cpp
    app/cold_test.cpp
    app/cooling_test.cpp
    app/coding_test.cpp
    app/core_step_test.cpp
    app/epcis_test.cpp
    app/erasing_files_test.cpp
    app/erasing_test.cpp
    app/evidence_folder_test.cpp
    app/explaining_test.cpp
    app/going_wrong_test.cpp
    app/heating_test.cpp
    app/judging_test.cpp
    app/kitchen_day_test.cpp
    app/keeping_test.cpp
    app/labels_test.cpp
    app/later_entries_test.cpp
    app/lists_test.cpp
    app/looking_test.cpp
    app/malformed_series_test.cpp
    app/ordering_test.cpp
    app/plan_review_test.cpp
    app/planning_test.cpp
    app/precautions_test.cpp
    app/readings_test.cpp
    app/reading_packs_test.cpp
    app/recording_test.cpp
    app/kit_test.cpp
    app/misdeclared_test.cpp
    app/recall_notes_test.cpp
    app/recalling_test.cpp
    app/scanned_test.cpp
    app/records_test.cpp
    app/taking_in_test.cpp
    app/thermometers_test.cpp
    app/timeline_test.cpp
    app/inspecting_test.cpp
    app/regular_test.cpp
    app/regular_answered_test.cpp
    app/releasing_test.cpp
    app/trace_list_test.cpp
    app/trace_picture_test.cpp
    app/tracing_test.cpp
    app/small_labels_test.cpp
    app/specimens_test.cpp
    app/stores_test.cpp
    app/whole_kitchen_test.cpp
    app/kept_until_test.cpp
    app/old_words_test.cpp
    app/allowances_test.cpp
    app/before_cooking_test.cpp
    app/due_test.cpp
    app/egg_record_test.cpp
    app/cake_papers_test.cpp
    app/access_test.cpp
    app/permissions_test.cpp
    app/at_the_door_test.cpp
    app/access_devices_test.cpp)
tierproof_tests(NAME installed SHARDS 1 ONLY plain ROOMS text
  SOURCES
    demo/installed_test.cpp)
